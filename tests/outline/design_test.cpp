// SPDX-License-Identifier: MIT
// Drawing from measures: sides, figures and their basis, ranges, missing and estimated measures, and each
// rule broken once.
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <sstream>
#include <string>
#include <string_view>

#include "base/file.h"
#include "outline/checks.h"
#include "outline/design_fixture.h"
#include "outline/fit.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::testing;
using outline::Measures;
using outline::Outline;
using outline::Side;

namespace {

const library::Design& design(std::string_view id) {
  return shipped().design(std::string(id));
}

Outline draw_usual(const std::string& id, Side side = Side::right) {
  return outline::draw(design(id), shipped(), measures_for(design(id), usual_adult()), side);
}

/// Texts and figures of a phrase, for a test to look for words.
std::string words(const Phrase& phrase) {
  std::string all;
  for (const Phrase::Part& part : phrase.parts())
    all += std::holds_alternative<std::string>(part) ? std::get<std::string>(part)
                                                     : std::get<Figure>(part).name();
  return all;
}

const outline::RuleCheck* check_of(const Outline& drawn, const std::string& id) {
  const auto found = std::find_if(drawn.checks.begin(), drawn.checks.end(),
                                  [&](const outline::RuleCheck& check) { return check.id == id; });
  return found == drawn.checks.end() ? nullptr : &*found;
}

std::string refusal(const library::Design& design, const Measures& measures) {
  try {
    (void)outline::draw(design, shipped(), measures, Side::right);
  } catch (const Failure& failure) {
    return failure.what();
  }
  return "accepted";
}

/// A plain rectangle 2 x share x breadth wide and one length high, drawn by a design made here.
library::Design rectangle_design() {
  library::Design made = design("volar-wrist");
  made.id = "box";
  made.name = "Box";
  made.measures = {"hand_breadth", "forearm_length"};
  made.rules = {
      {"share", "half on each side",
       Figure::stated("share", Range::exactly(0.5), units::one(), Origin{.basis = Basis::practice})}};
  made.lets = {{"half", "share*hand_breadth", {"box.toml", 9, 6}}};
  made.outline.vertices = {{"-half", "-forearm_length", "", {}},
                           {"half", "-forearm_length", "", {}},
                           {"half", "0 mm", "", {}},
                           {"-half", "0 mm", "", {}}};
  made.outline.ellipse.reset();
  made.holes.clear();
  made.straps.clear();
  made.lines.clear();
  return made;
}

Figure between(const std::string& id, double mm, double low_mm, double high_mm) {
  return Figure::entered(id, {mm * 1e-3, low_mm * 1e-3, high_mm * 1e-3}, units::millimetre());
}

}  // namespace

TEST_CASE("the left side is the right one in a mirror") {
  for (const auto& [id, any] : shipped().designs) {
    const auto& of_id = id;  // clang 14 captures no structured binding
    CAPTURE(of_id);
    const Outline right = draw_usual(id);
    const Outline left = draw_usual(id, Side::left);
    CHECK(near_rel(left.shape.area_mm2(), right.shape.area_mm2(), 1e-12));
    CHECK(left.shape.mirrored().outer().size() == right.shape.outer().size());
    const outline::Polygon back = left.shape.mirrored();
    for (const outline::Point& p : right.shape.outer())
      CHECK(std::find(back.outer().begin(), back.outer().end(), p) != back.outer().end());
    for (std::size_t i = 0; i < right.straps.size(); ++i) CHECK(left.straps[i].y_mm == right.straps[i].y_mm);
  }
}

TEST_CASE("figures of a drawn outline are those of its shape") {
  for (const auto& [id, any] : shipped().designs) {
    const auto& of_id = id;
    CAPTURE(of_id);
    const Outline drawn = draw_usual(id);
    CHECK(near_rel(drawn.area.value(), drawn.shape.area_mm2() / 100.0, 1e-9));
    CHECK(near_rel(drawn.width.value(), drawn.shape.box().width_mm(), 1e-9));
    CHECK(near_rel(drawn.height.value(), drawn.shape.box().height_mm(), 1e-9));
    CHECK(near_rel(drawn.perimeter.value(), drawn.shape.perimeter_mm(), 1e-9));
    CHECK(drawn.holes.si() == static_cast<double>(drawn.shape.holes().size()));
    CHECK(drawn.design == id);
  }
}

TEST_CASE("an area rests on the measures and rules that shape it, with the weakest basis") {
  const Outline drawn = draw_usual("volar-wrist");
  std::vector<std::string> names;
  for (const Figure& figure : drawn.area.rests_on()) names.push_back(figure.name());
  CHECK(std::find(names.begin(), names.end(), "forearm_length") != names.end());
  CHECK(std::any_of(names.begin(), names.end(),
                    [](const std::string& n) { return n.find("trough_share") != std::string::npos; }));
  // Straps and counts shape nothing.
  CHECK(std::none_of(names.begin(), names.end(),
                     [](const std::string& n) { return n.find("strap_count") != std::string::npos; }));
  CHECK(drawn.area.basis() == Basis::memory);
  CHECK_FALSE(drawn.area.has_range());
}

TEST_CASE("ranges of measures become ranges of results") {
  const library::Design box = rectangle_design();
  Measures measures;
  measures.emplace("hand_breadth", between("hand_breadth", 80, 76, 84));
  measures.emplace("forearm_length", between("forearm_length", 250, 250, 260));
  const Outline drawn = outline::draw(box, shipped(), measures, Side::right);
  CHECK(near_rel(drawn.area.value(), 200.0, 1e-12));
  // By hand: breadth moves it by 4 x 250 mm2 = 10 cm2 either way, length by 80 x 10 mm2 = 8 cm2 upward.
  CHECK(near_rel(drawn.area.low(), 190.0, 1e-12));
  CHECK(near_rel(drawn.area.high(), 200.0 + std::hypot(10.0, 8.0), 1e-12));
  CHECK(near_rel(drawn.width.low(), 76.0, 1e-12));
  CHECK(near_rel(drawn.height.high(), 260.0, 1e-12));
  CHECK(drawn.area.basis() == Basis::practice);
}

TEST_CASE("all missing measures are told at once, with how to take them") {
  Measures measures;
  measures.emplace("forearm_length", entered_mm("forearm_length", 250));
  const std::string seen = refusal(design("volar-wrist"), measures);
  for (const std::string& id : design("volar-wrist").measures) {
    CAPTURE(id);
    CHECK((seen.find("'" + id + "'") != std::string::npos) == (id != "forearm_length"));
    if (id != "forearm_length") CHECK(seen.find(shipped().measure(id).how) != std::string::npos);
  }
}

TEST_CASE("measures that are none are refused") {
  Measures measures = measures_for(design("volar-wrist"), usual_adult());
  measures.emplace("hand_bredth", entered_mm("hand_bredth", 80));
  CHECK(refusal(design("volar-wrist"), measures).find("did you mean 'hand_breadth'?") != std::string::npos);
  measures.erase("hand_bredth");
  measures.at("hand_breadth") =
      Figure::entered("hand_breadth", Range::exactly(0.05), units::square_centimetre());
  CHECK(refusal(design("volar-wrist"), measures).find("must be a length") != std::string::npos);
}

TEST_CASE("a missing girth is estimated where the survey supports it, and says so") {
  Measures measures = measures_for(design("volar-wrist"), usual_adult());
  measures.erase("wrist_girth");
  measures.emplace("hand_girth", entered_mm("hand_girth", 200));
  const Outline drawn = outline::draw(design("volar-wrist"), shipped(), measures, Side::right);
  const outline::RuleCheck* note = check_of(drawn, "measured-wrist_girth");
  REQUIRE(note != nullptr);
  CHECK_FALSE(note->kept);
  CHECK(words(note->says).find("measure it before cutting") != std::string::npos);
  const Figure estimate = note->says.figures().front();
  // NATICK/TR-15/007, public records: women 32.691 + 0.6545 x, men 32.597 + 0.6751 x, SEE 5.29 and 5.69 mm.
  CHECK(near_abs(estimate.value(), 0.5 * (32.691 + 0.6545 * 200 + 32.597 + 0.6751 * 200), 1e-9));
  CHECK(near_abs(estimate.low(), 32.691 + 0.6545 * 200 - 1.645 * 5.29, 1e-9));
  CHECK(near_abs(estimate.high(), 32.597 + 0.6751 * 200 + 1.645 * 5.69, 1e-9));
  CHECK(estimate.basis() == Basis::handbook);
  CHECK(shipped().sources.contains(estimate.leaves().front().origin()->source));
  CHECK(drawn.area.has_range());  // its spread widens the area
}

TEST_CASE("no estimate is made for a child or across a weak correlation") {
  Measures measures = measures_for(design("volar-wrist"), usual_adult());
  measures.erase("wrist_girth");
  measures.emplace("hand_girth", entered_mm("hand_girth", 130));  // a six-year-old; no adult of the survey
  CHECK(refusal(design("volar-wrist"), measures).find("'wrist_girth'") != std::string::npos);
  measures = measures_for(design("volar-wrist"), usual_adult());
  measures.erase("forearm_length");  // half of its variance stays open whatever else is known
  measures.emplace("hand_length", entered_mm("hand_length", 187));
  CHECK(refusal(design("volar-wrist"), measures).find("'forearm_length'") != std::string::npos);
}

TEST_CASE("values that nobody has raise an alarm") {
  Measures measures = measures_for(design("volar-wrist"), usual_adult());
  measures.at("wrist_girth") = entered_mm("wrist_girth", 16.5);  // typed in cm
  CHECK(refusal(design("volar-wrist"), measures).find("16.5 mm, which no limb has") != std::string::npos);
  measures.at("wrist_girth") = entered_mm("wrist_girth", 240.0);  // just beyond the largest adult's
  const Outline cm = outline::draw(design("volar-wrist"), shipped(), measures, Side::right);
  REQUIRE(check_of(cm, "plausible-wrist_girth") != nullptr);
  CHECK(words(check_of(cm, "plausible-wrist_girth")->says).find("check the unit") != std::string::npos);

  measures = measures_for(design("radial-wrist"), usual_adult());
  measures.at("hand_girth") = entered_mm("hand_girth", 83 * 2.9);
  const Outline swapped = outline::draw(design("radial-wrist"), shipped(), measures, Side::right);
  CHECK(check_of(swapped, "plausible-hand_girth-hand_breadth") != nullptr);
  measures.at("hand_girth") = entered_mm("hand_girth", 83 * 2.4);  // the mean ratio of the survey
  CHECK(check_of(outline::draw(design("radial-wrist"), shipped(), measures, Side::right),
                 "plausible-hand_girth-hand_breadth") == nullptr);
}

TEST_CASE("the usual adult keeps every rule of every design") {
  for (const auto& [id, any] : shipped().designs)
    for (const outline::RuleCheck& check : draw_usual(id).checks) {
      const auto& of_id = id;
      CAPTURE(of_id);
      CAPTURE(check.id);
      CHECK_MESSAGE(check.kept, words(check.says));
    }
}

TEST_CASE("the trade's rules are checked on the wrist designs") {
  // Common practice, no source: forearm piece two thirds of the forearm, trough half of the girth and walls
  // to half of the depth, distal edge just short of the palmar crease, thumb clear of the thenar eminence,
  // three straps, 50-70 mm at the wrist, rounded corners.
  const Outline volar = draw_usual("volar-wrist");
  for (const char* rule : {"forearm_share", "trough_share", "trough_walls", "crease_clearance",
                           "thenar_clearance", "corner_radius", "wrist_strap_width", "strap_count"}) {
    CAPTURE(std::string(rule));
    CHECK(check_of(volar, rule) != nullptr);
  }
  for (const char* rule : {"knuckle_clearance", "bridge_width", "thenar_clearance"})
    CHECK(check_of(draw_usual("radial-wrist"), rule) != nullptr);
}

TEST_CASE("each rule tells when it is broken") {
  struct Row {
    std::string rule;
    std::string let;  // changed to
    std::string is;
  };
  const std::vector<Row> rows{
      {"forearm_share", "arm_end", "-0.9*forearm_length"},
      {"trough_share", "half_arm", "0.9*trough_share*forearm_girth"},
      {"trough_walls", "half_arm", "0.9*trough_share*forearm_girth"},
      {"crease_clearance", "crease_from_y", "crease_ulnar - 9 mm"},
      {"crease_clearance", "crease_from_y", "crease_radial + 20 mm"},
      {"thenar_clearance", "scoop_x", "thenar_x - thenar_rx + 4 mm"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.rule);
    CAPTURE(row.is);
    library::Design changed = design("volar-wrist");
    for (library::DesignLet& let : changed.lets)
      if (let.id == row.let) let.is = row.is;
    if (row.rule == "crease_clearance" && row.is.find("+ 20") != std::string::npos)
      for (library::DesignLet& let : changed.lets)
        if (let.id == "crease_to_y") let.is = "crease_radial + 20 mm";
    const Outline drawn =
        outline::draw(changed, shipped(), measures_for(changed, usual_adult()), Side::right);
    REQUIRE(check_of(drawn, row.rule) != nullptr);
    CHECK_FALSE(check_of(drawn, row.rule)->kept);
  }
  library::Design sharp = design("volar-wrist");
  sharp.outline.vertices.front().radius = "2 mm";
  sharp.straps.pop_back();
  sharp.straps.at(1).fixing = "strap-25";
  sharp.straps.at(1).name = "band at the wrist";  // a strap is known by its id
  sharp.straps.at(0).at_y = "-2*forearm_length";
  const Outline drawn = outline::draw(sharp, shipped(), measures_for(sharp, usual_adult()), Side::right);
  for (const char* rule : {"corner_radius", "strap_count", "wrist_strap_width", "strap_place"}) {
    CAPTURE(std::string(rule));
    REQUIRE(check_of(drawn, rule) != nullptr);
    CHECK_FALSE(check_of(drawn, rule)->kept);
  }
  library::Design thin = design("radial-wrist");
  thin.holes.front().ellipse->ry = "thenar_ry + 19 mm";
  const Outline bridged = outline::draw(thin, shipped(), measures_for(thin, usual_adult()), Side::right);
  CHECK_FALSE(check_of(bridged, "bridge_width")->kept);
}

TEST_CASE("straps as wide as an adult's hang over the ends of a small child's piece, and that is told") {
  const library::Design& volar = design("volar-wrist");
  const auto said = [&](double share) {
    Person person = usual_adult();
    for (auto& [id, mm] : person) mm *= share;
    const Outline drawn = outline::draw(volar, shipped(), measures_for(volar, person), Side::right);
    return check_of(drawn, "strap_room") != nullptr;
  };
  CHECK_FALSE(said(1.0));
  CHECK(said(0.45));
}

TEST_CASE("a strap round the wrist goes round it at most once, however small the child") {
  const auto strap_mm = [](const library::Design& made, const Person& person) {
    const Outline drawn = outline::draw(made, shipped(), measures_for(made, person), Side::right);
    const auto wrist =
        std::find_if(drawn.straps.begin(), drawn.straps.end(),
                     [](const outline::StrapPlace& strap) { return strap.name == "wrist strap"; });
    REQUIRE(wrist != drawn.straps.end());
    return wrist->length.si() * 1e3;
  };
  Person child = usual_adult();
  for (auto& [id, mm] : child) mm *= 0.7;
  for (const char* id : {"volar-wrist", "dorsal-wrist", "resting-hand", "safe-position-hand"}) {
    CAPTURE(id);
    CHECK(near_rel(strap_mm(design(id), child), child.at("wrist_girth"), 1e-9));
    CHECK(strap_mm(design(id), usual_adult()) < usual_adult().at("wrist_girth"));
  }
}

TEST_CASE("the safe position is bent where the knuckles bend: at the palmar crease") {
  // Common practice, no source: the distal palmar crease lies in front of the knuckle joints.
  const library::Design& safe = design("safe-position-hand");
  const Person person = usual_adult();
  const Outline drawn = outline::draw(safe, shipped(), measures_for(safe, person), Side::right);
  const auto fold = std::find_if(drawn.lines.begin(), drawn.lines.end(), [](const outline::WorkLine& line) {
    return line.name == "bend at the knuckles";
  });
  REQUIRE(fold != drawn.lines.end());
  const outline::Path& path = fold->parts.front();
  const auto height_at = [&](double x_mm) {
    const double t = (x_mm - path.front().x_mm) / (path.back().x_mm - path.front().x_mm);
    return path.front().y_mm + t * (path.back().y_mm - path.front().y_mm);
  };
  const double half_hand_mm = 0.5 * person.at("hand_breadth");
  CHECK(near_abs(height_at(half_hand_mm), person.at("crease_radial"), 1e-6));
  CHECK(near_abs(height_at(-half_hand_mm), person.at("crease_ulnar"), 1e-6));
}

TEST_CASE("a design that does not close names the place and the person's measures as the cause") {
  library::Design crossing = rectangle_design();
  crossing.outline.vertices[2].x = "-half";
  crossing.outline.vertices[3].x = "2*half";
  const std::string seen = refusal(crossing, measures_for(crossing, usual_adult()));
  CHECK(seen.find("Box does not close with these measures: the edge crosses itself") != std::string::npos);
  CHECK(seen.find("near x = ") != std::string::npos);
}

TEST_CASE("every shipped design fits every limb, even where one measure strays") {
  for (const auto& [id, any] : shipped().designs) {
    const auto& of_id = id;
    CAPTURE(of_id);
    const std::vector<Problem> problems = outline::fit_problems(any, shipped());
    CHECK_MESSAGE(problems.empty(), problems.front().text());
  }
}

TEST_CASE("a design that closes only for some is told with the limb that breaks it, once") {
  library::Design narrow = rectangle_design();
  narrow.outline.vertices[0].x = narrow.outline.vertices[3].x = "0 mm";
  narrow.outline.vertices[1].x = "hand_breadth - 45 mm";  // left of the left edge on a small hand
  narrow.outline.vertices[2].x = "20 mm";
  const std::vector<Problem> problems = outline::fit_problems(narrow, shipped());
  REQUIRE_FALSE(problems.empty());
  CHECK(problems.size() == 1);
  CHECK(problems.front().message.find("(for forearm_length 85 mm, hand_breadth 32 mm)") != std::string::npos);

  library::Design slip = rectangle_design();
  slip.outline.vertices[1].x = "half*half";
  CHECK(outline::fit_problems(slip, shipped()).size() == 1);
}

TEST_CASE(
    "a strap that misses the outline, a rule without its let and a rule that takes a measure's name are "
    "told") {
  library::Design loose = design("volar-wrist");
  loose.straps.at(0).at_y = "-2*forearm_length";
  const std::vector<Problem> problems = outline::fit_problems(loose, shipped());
  REQUIRE_FALSE(problems.empty());
  CHECK(problems.front().message.find("a strap of volar-wrist does not lie on the outline") !=
        std::string::npos);

  library::Design unnamed = design("volar-wrist");
  std::erase_if(unnamed.lets, [](const auto& let) { return let.id == "trough_girth"; });
  const std::string missing = refusal(unnamed, measures_for(unnamed, usual_adult()));
  CHECK(missing.find("the let 'trough_girth', which is missing") != std::string::npos);

  library::Design clash = design("volar-wrist");
  clash.rules.front().id = "wrist_girth";
  CHECK(refusal(clash, measures_for(clash, usual_adult())).find("the name 'wrist_girth' is used twice") !=
        std::string::npos);
}

TEST_CASE("slips in a design's expressions are told all at once, each at its place") {
  library::Design slips = rectangle_design();
  slips.outline.vertices[0].x = "half half";
  slips.outline.vertices[0].place = {"box.toml", 12, 3};
  slips.outline.vertices[2].y = "3 +";
  slips.lets.front().is = "share * * hand_breadth";
  slips.lets.push_back({"share", "1 mm", {}});
  const std::string seen = refusal(slips, measures_for(slips, usual_adult()));
  for (const char* part : {"box.toml:9:6: let half", "box.toml:12:3: x of vertex 1", "y of vertex 3",
                           "the name 'share' is used twice"})
    CHECK_MESSAGE(seen.find(part) != std::string::npos, seen);
}

TEST_CASE("the README's table of rules has those that are checked") {
  const std::string readme = read_file(WARMSHEET_SOURCE_DIR "/materials/README.md");
  std::istringstream table(readme.substr(readme.find("| rule |")));
  std::set<std::string> told;
  for (std::string line; std::getline(table, line) && line.starts_with("|");)
    if (line.starts_with("| `")) told.insert(line.substr(3, line.find('`', 3) - 3));
  CHECK(told.size() == 9);
  for (const std::string& rule : told) CHECK_MESSAGE(outline::is_checked(rule), rule);
  for (const auto& [id, any] : shipped().designs)
    for (const library::DesignRule& rule : any.rules)
      if (outline::is_checked(rule.id)) CHECK_MESSAGE(told.contains(rule.id), rule.id);
}

TEST_CASE("a rule or a measure that does nothing is told, and one that a check reads does something") {
  CHECK(outline::fit_problems(rectangle_design(), shipped()).empty());
  library::Design idle = rectangle_design();
  idle.measures.emplace_back("hand_length");
  idle.measures_place = {"box.toml", 5, 1};
  idle.rules.push_back(idle.rules.front());
  idle.rules.back().id = "shear";
  idle.rules.push_back(idle.rules.front());
  idle.rules.back().id = "strap_count";
  const std::vector<Problem> problems = outline::fit_problems(idle, shipped());
  REQUIRE(problems.size() == 2);
  CHECK(problems[0].message.find("uses the rule 'shear'") != std::string::npos);
  CHECK(problems[1].place.text() == "box.toml:5:1");
  CHECK(problems[1].message.find("uses the measure 'hand_length'") != std::string::npos);
}

TEST_CASE("width and height grow with the measures that set them") {
  CHECK(rc::check([] {
    const library::Design box = rectangle_design();
    const double breadth = *rc::gen::inRange(40, 110);
    const double length = *rc::gen::inRange(90, 320);
    Measures measures;
    measures.emplace("hand_breadth", entered_mm("hand_breadth", breadth));
    measures.emplace("forearm_length", entered_mm("forearm_length", length));
    const Outline drawn = outline::draw(box, shipped(), measures, Side::left);
    RC_ASSERT(near_rel(drawn.width.value(), breadth, 1e-12).near);
    RC_ASSERT(near_rel(drawn.area.value(), breadth * length / 100.0, 1e-12).near);
  }));
}
