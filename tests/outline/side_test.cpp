// SPDX-License-Identifier: MIT
// For which side of the body a traced pattern is. A hand and its mirror image cannot be brought together
// (plane geometry: a reflection turns the sense of rotation round), so a pattern for the wrong hand fits
// nobody.
#include <doctest/doctest.h>

#include <string>

#include "outline/design_fixture.h"
#include "outline/named_file.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using namespace warmsheet::testing;

namespace {

/// A right-angled triangle whose long side lies along +x and whose short one along +y: it has no axis of
/// symmetry.
const std::string triangle = "unit = \"mm\"\npoints = [[0, 0], [80, 0], [0, 30]]\n";

std::string refusal(const std::string& path, const ReadOptions& options) {
  try {
    (void)read(path, options);
  } catch (const Failure& failure) {
    return std::string(failure.what()) + "\n" + failure.problems().front().hint;
  }
  return "accepted";
}

/// x of the centroid less the middle of the box: the mirror image has the opposite sign.
double lean_mm(const Outline& outline) {
  const Box box = outline.shape.box();
  return outline.shape.centroid().x_mm - 0.5 * (box.low.x_mm + box.high.x_mm);
}

bool warns_of_side(const Outline& outline) {
  for (const RuleCheck& check : outline.checks)
    if (check.id == "side" && !check.kept) return true;
  return false;
}

}  // namespace

TEST_CASE("a traced pattern is turned over for the other side, and for the same one it lies as it is drawn") {
  const Scratch scratch;
  const std::string path = scratch.file("p.toml", triangle);
  const double lean = lean_mm(read(path, {}));
  REQUIRE(std::abs(lean) > 5.0);
  for (const Side traced : {Side::left, Side::right})
    for (const Side side : {Side::left, Side::right}) {
      const Outline seen = read(path, {.traced = traced, .side = side});
      CHECK(near_abs(lean_mm(seen), traced == side ? lean : -lean, 1e-9));
      CHECK(seen.side == side);
      CHECK(seen.turned_over == (traced != side));
      CHECK(seen.name.ends_with(std::string(side_word(side))));
      CHECK_FALSE(warns_of_side(seen));
    }
}

TEST_CASE("a file that says its side needs no other word, and none may contradict it") {
  const Scratch scratch;
  const std::string path = scratch.file("p.toml", "side = \"left\"\n" + triangle);
  const Outline lies = read(path, {});
  CHECK(lies.side == Side::left);
  CHECK_FALSE(lies.turned_over);
  CHECK(near_abs(lean_mm(read(path, {.side = Side::right})), -lean_mm(lies), 1e-9));
  CHECK(refusal(path, {.traced = Side::right}).find("traced on the left side") != std::string::npos);
  CHECK(read(path, {.traced = Side::left}).side == Side::left);
}

TEST_CASE("a side that is asked of a file which knows none is refused, not passed over") {
  const Scratch scratch;
  const std::string path = scratch.file("p.toml", triangle);
  const std::string said = refusal(path, {.side = Side::left});
  CHECK(said.find("does not say which side") != std::string::npos);
  CHECK(said.find("--traced left") != std::string::npos);
  CHECK(refusal(path, {.side = Side::left, .ask = AskFor::key}).find("traced = \"left\" }") !=
        std::string::npos);
  const Outline unknown = read(path, {});
  CHECK_FALSE(unknown.side.has_value());
  CHECK(warns_of_side(unknown));
}

TEST_CASE("a design is drawn for a side, and says which, of what, and what it is not") {
  const library::Design& design = shipped().design("radial-wrist");
  const Measures measures = measures_for(design, usual_adult());
  const Outline right = draw(design, shipped(), measures, Side::right);
  const Outline left = draw(design, shipped(), measures, Side::left);
  CHECK(near_abs(lean_mm(left), -lean_mm(right), 1e-9));
  CHECK(right.side == Side::right);
  CHECK(left.side == Side::left);
  CHECK(left.body_part == "wrist");
  CHECK(left.is_not.find("swells") != std::string::npos);
}

TEST_CASE("measures that a design does not use are told, those of an estimate are used") {
  const library::Design& design = shipped().design("volar-wrist");
  Measures measures = measures_for(design, usual_adult());
  CHECK(draw(design, shipped(), measures, Side::right).unused.empty());
  measures.emplace("elbow_girth",
                   Figure::entered("elbow_girth", Range::exactly(0.26), units::millimetre(), {}));
  CHECK(draw(design, shipped(), measures, Side::right).unused == std::vector<std::string>{"elbow_girth"});
}

TEST_CASE("another file names an outline by its name alone, or with what it leaves open") {
  const auto named = [](const std::string& line, std::size_t problems_expected = 0) {
    const toml::Value document = toml::parse(line, "job.toml");
    Problems problems;
    std::optional<NamedFile> found;
    {
      toml::Reader reader(document, "", problems, Basis::entered);
      found = named_file(reader, "outline");
    }
    CHECK(problems.list().size() == problems_expected);
    return found;
  };
  CHECK_FALSE(named("").has_value());
  CHECK(named("outline = \"a.svg\"")->file == "a.svg");
  CHECK(named("outline = \"a.svg\"")->options.ask == AskFor::key);
  const NamedFile whole = *named(
      "outline = { file = \"a.png\", unit = \"1/150 in\", tolerance = \"0.2 mm\", photo = \"letter\", "
      "traced = \"left\" }");
  CHECK(whole.file == "a.png");
  CHECK(near_rel(whole.options.user_unit->si, 0.0254 / 150.0, 1e-12));
  CHECK(near_rel(whole.options.tolerance.si, 2e-4, 1e-12));
  CHECK(near_rel(whole.options.paper->long_mm, 279.4, 1e-12));
  CHECK(whole.options.traced == Side::left);
  CHECK(named("outline = { file = \"a.svg\", layer = \"edge\" }")->options.layer == "edge");
  CHECK(named("outline = { file = \"a.png\", layer = \"edge\" }", 1).has_value());
  CHECK(named("outline = { file = \"a.toml\", unit = \"1 mm\" }", 1).has_value());
  CHECK(named("outline = { file = \"a.csv\", tolerance = \"1 mm\" }", 1).has_value());
  CHECK_FALSE(named("outline = 3", 1).has_value());
  CHECK_FALSE(named("outline = { unit = \"1 mm\" }", 1).has_value());
  CHECK(named("outline = { file = \"a.png\", foto = \"a4\" }", 1).has_value());
  CHECK(named("outline = { file = \"a.png\", unit = \"5 m\" }", 1).has_value());
}
