// SPDX-License-Identifier: MIT
// The shipped conditions, held against what their sources print and against each other.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "choice/choose.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::choice;
using testing::near_rel;

namespace {

constexpr std::size_t fewest_needs = 6;  // with fewer, one need decides nearly alone

const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

const library::JointPosition& position(const char* condition, const char* joint) {
  const auto& positions = shipped().condition(condition).positions;
  const auto found =
      std::find_if(positions.begin(), positions.end(), [&](const auto& p) { return p.id == joint; });
  REQUIRE(found != positions.end());
  return *found;
}

}  // namespace

TEST_CASE("there are conditions for a clinic's week, and general ones for the rest") {
  CHECK(shipped().conditions.size() >= 22);
  for (const char* id : {"general-light", "general-rigid", "general-ventilated", "general-serial"})
    CHECK(shipped().conditions.contains(id));
}

// Each angle as printed in the source named in its entry: therapy programmes of an open hand surgery
// collection (eatonhand.com thr060, thr074, thr066), family physicians' pages (fprmed.com boxer's fracture;
// fpnotebook.com hand position).
TEST_CASE("usual positions are those their sources print") {
  struct Row {
    const char* condition;
    const char* joint;
    double degrees;
    const char* direction;
  };
  for (const Row& row :
       {Row{"de-quervain", "wrist", 0, "extension"},
        Row{"de-quervain", "thumb-base", 45, "palmar and radial abduction"},
        Row{"de-quervain", "thumb-mcp", 10, "flexion"}, Row{"flexor-tendon", "wrist", 30, "flexion"},
        Row{"flexor-tendon", "mcp", 45, "flexion"}, Row{"extensor-tendon", "wrist", 35, "extension"},
        Row{"little-metacarpal-fracture", "wrist", 30, "extension"},
        Row{"little-metacarpal-fracture", "mcp", 80, "flexion"},
        Row{"safe-position", "wrist", 25, "extension"}, Row{"safe-position", "mcp", 60, "flexion"}}) {
    CAPTURE(row.condition);
    CAPTURE(row.joint);
    const library::JointPosition& seen = position(row.condition, row.joint);
    CHECK(testing::near_abs(seen.angle.value(), row.degrees, 1e-9));
    CHECK(seen.direction == row.direction);
    CHECK(seen.angle.basis() == Basis::handbook);
  }
}

TEST_CASE(
    "every condition says what is held, what stays free, how it is worn and when to look again, each with a "
    "basis") {
  for (const auto& entry : shipped().conditions) {
    const auto& id = entry.first;
    const auto& condition = entry.second;
    CAPTURE(id);
    for (const library::Statement* statement :
         {&condition.held, &condition.stays_free, &condition.wear, &condition.review}) {
      CHECK_FALSE(statement->says.empty());
      CHECK(statement->origin.basis != Basis::demo);
      if (statement->origin.basis == Basis::handbook)
        CHECK(shipped().sources.contains(statement->origin.source));
    }
    CHECK_MESSAGE(!condition.words.empty(), "a shipped condition needs words it is looked for by");
    CHECK_MESSAGE(condition.needs.size() >= fewest_needs, "a shipped condition weighs six needs or more");
  }
}

TEST_CASE(
    "every condition for insensate skin, fresh repair, graft, swelling or age carries a caution of its own "
    "or the plan's") {
  for (const auto& entry : shipped().conditions) {
    const auto& id = entry.first;
    const auto& condition = entry.second;
    CAPTURE(id);
    if (id.starts_with("general-") || id == "wrist-tendinopathy") continue;
    CHECK_MESSAGE(condition.cautions.size() + condition.precautions.size() > 0,
                  "a shipped condition needs a [[caution]] or precautions = [..]");
    std::set<std::string> ids;
    for (const library::ConditionCaution& caution : condition.cautions) CHECK(ids.insert(caution.id).second);
  }
  CHECK(shipped().condition("ulnar-nerve").skin == "reduced");
  CHECK(shipped().condition("spastic-hand").skin == "reduced");
  CHECK(shipped().condition("rheumatoid-rest").skin == "thin");
}

TEST_CASE("the usual piece of a condition is the one its design draws for an adult's usual measures") {
  for (const auto& entry : shipped().conditions) {
    const auto& id = entry.first;
    const auto& condition = entry.second;
    CAPTURE(id);
    if (condition.design.empty()) continue;
    const library::Design& design = shipped().design(condition.design);
    outline::Measures measures;
    for (const std::string& name : design.measures) measures.emplace(name, shipped().measures.at(name).usual);
    const outline::Outline drawn = outline::draw(design, shipped(), measures, outline::Side::right);
    const library::UsualPiece& piece = condition.piece;
    // Typed with two or three digits.
    INFO("area, perimeter and length of [piece] within 3 % of what design = \"", condition.design,
         "\" draws for an adult's usual measures: see warmsheet outline ", condition.design);
    CHECK(near_rel(piece.area.si(), drawn.area.si(), 0.03));
    CHECK(near_rel(piece.perimeter.si(), drawn.perimeter.si(), 0.03));
    CHECK(near_rel(piece.length.si(), drawn.height.si(), 0.03));
  }
}

TEST_CASE("the prescription is never overruled: no condition states a position or schedule as an order") {
  for (const auto& entry : shipped().conditions) {
    const auto& id = entry.first;
    const auto& condition = entry.second;
    CAPTURE(id);
    for (const std::string& text : {condition.about, condition.wear.says, condition.review.says})
      for (const char* order : {"must be prescribed", "diagnos", "instead of the prescription"})
        CHECK(text.find(order) == std::string::npos);
  }
}

TEST_CASE("conditions are found by the words people use") {
  struct Row {
    const char* words;
    const char* first;
  };
  for (const Row& row : {Row{"carpal tunnel", "carpal-tunnel"}, Row{"boxer", "little-metacarpal-fracture"},
                         Row{"wrist drop", "radial-nerve"}, Row{"tennis elbow", "wrist-tendinopathy"},
                         Row{"broken wrist", "distal-radius-plate"}, Row{"stroke", "spastic-hand"},
                         Row{"oedema", "safe-position"}, Row{"Mallet", "mallet-finger"},
                         Row{"quervian", "de-quervain"}, Row{"ulnar drift", "rheumatoid-rest"}}) {
    CAPTURE(row.words);
    const auto found = find_conditions(shipped(), row.words);
    REQUIRE_FALSE(found.empty());
    CHECK(found.front()->id == row.first);
  }
  CHECK(find_conditions(shipped(), "").size() == shipped().conditions.size());
  CHECK(find_conditions(shipped(), "zzzzqqq").empty());
  CHECK(find_conditions(shipped(), "grist").empty());  // a slip seldom hits the first letter: not "wrist"
}

TEST_CASE("every other name of a condition takes it, or is refused because it fits another one too") {
  for (const auto& entry : shipped().conditions)
    for (const std::string& words : entry.second.words) {
      const std::string& id = entry.first;
      CAPTURE(id);
      CAPTURE(words);
      std::string taken;
      try {
        taken = condition_for(shipped(), words).id;
      } catch (const Failure& failure) {
        const std::string& hint = failure.problems().front().hint;
        CHECK(hint.find(id) != std::string::npos);
        CHECK(hint.find(',') != std::string::npos);
        continue;
      }
      CHECK(taken == id);
    }
}

TEST_CASE("an unknown condition is refused with the nearest ones") {
  CHECK(condition_for(shipped(), "scaphoid").id == "scaphoid");
  CHECK(condition_for(shipped(), "snuffbox").id == "scaphoid");  // fits one only
  // Each word fits several, both together one.
  CHECK(condition_for(shipped(), "night numbness").id == "carpal-tunnel");
  CHECK(condition_for(shipped(), "Wrist Drop").id == "radial-nerve");
  CHECK_THROWS_AS(static_cast<void>(condition_for(shipped(), "extensor")), Failure);
  try {
    static_cast<void>(condition_for(shipped(), "wrist"));
    FAIL("a word that fits several was taken");
  } catch (const Failure& failure) {
    CHECK(failure.trouble() == Trouble::usage);
    CHECK(failure.problems().front().hint.find("wrist-tendinopathy") != std::string::npos);
  }
  CHECK_THROWS_AS(static_cast<void>(condition_for(shipped(), "zzzzqqq")), Failure);
}
