// SPDX-License-Identifier: MIT
// Lines to trim, flare and fold along: on shapes whose lengths are known by hand, on everybody, and where a
// design gets them wrong.
#include <doctest/doctest.h>

#include <algorithm>
#include <numbers>

#include "outline/design_fixture.h"
#include "outline/fit.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::testing;
using outline::Outline;
using outline::Side;

namespace {

constexpr double breadth_mm = 80.0;
constexpr double length_mm = 200.0;

library::DesignLine line_named(const std::string& name) {
  return {.id = name,
          .name = name,
          .kind = library::LineKind::flare,
          .why = "to see it",
          .origin = {.basis = Basis::practice},
          .place = {"box.toml", 7, 1}};
}

/// 80 x 200 mm, with a round opening of 20 mm radius at (0, 100), and one line.
library::Design box_with(const library::DesignLine& line) {
  library::Design made = shipped().design("volar-wrist");
  made.id = "box";
  made.measures = {"hand_breadth", "forearm_length"};
  made.rules.clear();
  made.lets = {{"half", "0.5*hand_breadth", {}}};
  made.outline.vertices = {{"-half", "0 mm", "", {}},
                           {"half", "0 mm", "", {}},
                           {"half", "forearm_length", "", {}},
                           {"-half", "forearm_length", "", {}}};
  library::DesignRing hole;
  hole.id = "thumb";
  hole.ellipse = library::DesignEllipse{"0 mm", "100 mm", "20 mm", "20 mm", {}};
  made.holes = {hole};
  made.straps.clear();
  made.lines = {line};
  return made;
}

outline::WorkLine drawn(const library::Design& design, Side side = Side::right) {
  outline::Measures measures;
  measures.emplace("hand_breadth", entered_mm("hand_breadth", breadth_mm));
  measures.emplace("forearm_length", entered_mm("forearm_length", length_mm));
  return outline::draw(design, shipped(), measures, side).lines.at(0);
}

library::DesignLine straight(const char* x1, const char* y1, const char* x2, const char* y2) {
  library::DesignLine line = line_named("straight");
  line.points = {{x1, y1, "", {}}, {x2, y2, "", {}}};
  return line;
}

}  // namespace

TEST_CASE("a line along an edge runs from corner to corner at its distance") {
  library::DesignLine line = line_named("edge");
  line.along = library::DesignLine::Along{1, 2};
  line.inset = "6 mm";
  const outline::WorkLine seen = drawn(box_with(line));
  REQUIRE(seen.inside);
  REQUIRE(seen.parts.size() == 1);
  CHECK(near_abs(seen.length.value(), breadth_mm - 2.0 * 6.0, 1e-9));
  for (const outline::Point& point : seen.parts[0]) CHECK(near_abs(point.y_mm, 6.0, 1e-9));
  CHECK(seen.inset->value() == 6.0);
  CHECK(seen.length.basis() == Basis::practice);  // the weakest of what was entered and what the line states

  line.along = library::DesignLine::Along{2, 1};  // the other way: three sides
  CHECK(near_abs(drawn(box_with(line)).length.value(), 2.0 * (length_mm - 12.0) + breadth_mm - 12.0, 1e-9));
}

TEST_CASE("a line around a hole closes at its distance") {
  library::DesignLine line = line_named("ring");
  line.around = "thumb";
  line.inset = "4 mm";
  const outline::WorkLine seen = drawn(box_with(line));
  REQUIRE(seen.parts.size() == 1);
  CHECK(seen.parts[0].front() == seen.parts[0].back());
  // Chords of a circle of 24 mm, within 0.05 mm of the hole's edge and its offset: good to half a percent.
  CHECK(near_rel(seen.length.value(), 2.0 * std::numbers::pi * 24.0, 5e-3));
}

TEST_CASE("a line that runs to the edge is drawn only on material") {
  library::DesignLine line = straight("-hand_breadth", "100 mm", "hand_breadth", "100 mm");
  line.to_edge = true;
  const outline::WorkLine seen = drawn(box_with(line));
  CHECK(seen.inside);
  CHECK(seen.parts.size() == 2);
  CHECK(near_abs(seen.length.value(), breadth_mm - 2.0 * 20.0, 0.1));
}

TEST_CASE("a curved line keeps the length of its arc") {
  library::DesignLine line = line_named("bend");
  line.points = {{"-30 mm", "20 mm", "", {}}, {"0 mm", "20 mm", "10 mm", {}}, {"0 mm", "50 mm", "", {}}};
  const double expected = 2.0 * 20.0 + 0.5 * std::numbers::pi * 10.0;
  CHECK(near_rel(drawn(box_with(line)).length.value(), expected, 1e-3));
}

TEST_CASE("a line that ends where it began has all its sides") {
  library::DesignLine line = line_named("patch");
  line.points = {{"-20 mm", "20 mm", "", {}},
                 {"20 mm", "20 mm", "", {}},
                 {"20 mm", "60 mm", "", {}},
                 {"-20 mm", "60 mm", "", {}},
                 {"-20 mm", "20 mm", "", {}}};
  CHECK(near_rel(drawn(box_with(line)).length.value(), 160.0, 1e-9));
}

TEST_CASE("the left side's lines are the right side's in a mirror") {
  const library::Design design = box_with(straight("-10 mm", "10 mm", "30 mm", "60 mm"));
  const outline::WorkLine right = drawn(design);
  const outline::WorkLine left = drawn(design, Side::left);
  CHECK(left.parts[0][0].x_mm == -right.parts[0][0].x_mm);
  CHECK(left.parts[0][1].y_mm == right.parts[0][1].y_mm);
}

TEST_CASE("a line that leaves the material is a named warning for a person and a problem of the design") {
  const library::Design design = box_with(straight("0 mm", "10 mm", "60 mm", "10 mm"));
  CHECK_FALSE(drawn(design).inside);
  outline::Measures measures;
  measures.emplace("hand_breadth", entered_mm("hand_breadth", breadth_mm));
  measures.emplace("forearm_length", entered_mm("forearm_length", length_mm));
  const Outline seen = outline::draw(design, shipped(), measures, Side::right);
  CHECK(std::any_of(seen.checks.begin(), seen.checks.end(),
                    [](const outline::RuleCheck& check) { return check.id == "line_place" && !check.kept; }));
  const std::vector<Problem> problems = outline::fit_problems(design, shipped());
  const auto named = std::find_if(problems.begin(), problems.end(), [](const Problem& problem) {
    return problem.place.file == "box.toml" && problem.place.line == 7;
  });
  REQUIRE(named != problems.end());
  CHECK(named->message.find("straight of box does not lie on the outline") != std::string::npos);
}

TEST_CASE("every shipped design marks what is done to its edges, with reasons, on everybody") {
  Normal normal(5);
  std::vector<Person> people;
  for (int i = 0; i < 20; ++i) people.push_back(adult(normal, i % 2 == 0));
  for (const Age& age : ages()) people.push_back(child(normal, age));
  for (const auto& [id, design] : shipped().designs) {
    const auto& of_id = id;
    CAPTURE(of_id);
    const auto has = [&, &design = design](library::LineKind kind) {
      return std::any_of(design.lines.begin(), design.lines.end(),
                         [&](const library::DesignLine& line) { return line.kind == kind; });
    };
    // Common practice, no source: edges that meet creases and bone are flared.
    CHECK_MESSAGE(has(library::LineKind::flare), "a shipped design needs a [[line]] of kind flare");
    CHECK_MESSAGE((has(library::LineKind::trim) || has(library::LineKind::fold)),
                  "a shipped design needs a [[line]] of kind trim or fold");
    for (const Person& person : people) {
      const Outline seen = outline::draw(design, shipped(), measures_for(design, person), Side::right);
      CHECK(seen.lines.size() == design.lines.size());
      for (const outline::WorkLine& line : seen.lines) CHECK_MESSAGE(line.inside, line.name);
    }
  }
}
