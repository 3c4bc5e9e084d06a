// SPDX-License-Identifier: MIT
// The decisions that a person's skin rests on, as tables for modified condition/decision coverage (RTCA
// DO-178C, 6.4.4.2: every condition is seen to change the outcome by itself). Each row changes one condition
// of a base case and names all that must come and go with it; nothing else may. tests/coverage.sh measures
// the same.
#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <iterator>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "choice/figures.h"
#include "library/precautions.h"
#include "plan/cautions.h"

using namespace warmsheet;

namespace {

using Ids = std::set<std::string>;

const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

struct Situated {
  heat::Situation situation;
  heat::Timing timing;
};

Figure seconds(Basis basis) {
  return Figure::stated("x", Range::exactly(30.0), units::second(), {.basis = basis, .source = "k"});
}

/// Everything well: dried, one layer, lined, no wrap, draws made, a window, all figures strong.
Situated base() {
  heat::Request request;
  request.sheet = "elastic-clear";
  request.liner = shipped().surroundings.liners.begin()->first;
  request.dried = true;
  request.samples = 0;
  heat::Situation situation = heat::resolve(shipped(), request);
  heat::Timing timing = heat::time(situation);
  Situated base{std::move(situation), std::move(timing)};
  base.situation.samples = 128;
  base.timing.wait = base.timing.peak_skin = base.timing.damage = seconds(Basis::bench);
  return base;
}

Ids ids_of(const Situated& s) {
  Ids ids;
  for (const Caution& caution : plan::heat_cautions(s.situation, s.timing, shipped().bench_times))
    ids.emplace(caution.id);
  return ids;
}

Ids less(const Ids& a, const Ids& b) {
  Ids left;
  std::set_difference(a.begin(), a.end(), b.begin(), b.end(), std::inserter(left, left.end()));
  return left;
}

struct Row {
  const char* condition;
  std::function<void(Situated&)> turn;
  Ids come;
  Ids go;
};

std::vector<Row> rows() {
  const Finding none = Finding::absent("none");
  return {
      {"the base itself", [](Situated&) {}, {}, {}},
      {"there is no window",
       [](Situated& s) { s.timing.window = Finding::absent("none"); },
       {"no-safe-window"},
       {}},
      {"there is no wait", [=](Situated& s) { s.timing.wait = none; }, {}, {"wait-before-skin"}},
      {"no draws were made", [](Situated& s) { s.situation.samples = 0; }, {"central-only"}, {}},
      {"one draw was made", [](Situated& s) { s.situation.samples = 1; }, {}, {}},
      {"two layers", [](Situated& s) { s.situation.layers = 2; }, {"folded"}, {"never-fold"}},
      {"a wrap",
       [](Situated& s) { s.situation.wrap = shipped().surroundings.wraps.begin()->second; },
       {"wrapped-hot"},
       {"never-insulate"}},
      {"an edge reheated",
       [](Situated& s) { s.situation.reheat = heat::Reheat::edge; },
       {"reheat-off-the-body"},
       {}},
      {"a spot reheated",
       [](Situated& s) { s.situation.reheat = heat::Reheat::spot; },
       {"reheat-off-the-body"},
       {}},
      {"no liner", [](Situated& s) { s.situation.liner.reset(); }, {"no-liner"}, {}},
      // (known and weak) of the wait, or of the peak, or of the damage: each condition by itself.
      {"a weak wait", [](Situated& s) { s.timing.wait = seconds(Basis::memory); }, {"weak-basis"}, {}},
      {"a weak peak", [](Situated& s) { s.timing.peak_skin = seconds(Basis::demo); }, {"weak-basis"}, {}},
      {"a weak damage", [](Situated& s) { s.timing.damage = seconds(Basis::memory); }, {"weak-basis"}, {}},
      {"a wait just strong enough", [](Situated& s) { s.timing.wait = seconds(Basis::practice); }, {}, {}},
      {"no peak", [=](Situated& s) { s.timing.peak_skin = none; }, {}, {}},
      {"no damage", [=](Situated& s) { s.timing.damage = none; }, {}, {}},
      {"no wait, and a weak peak",
       [=](Situated& s) {
         s.timing.wait = none;
         s.timing.peak_skin = seconds(Basis::memory);
       },
       {"weak-basis"},
       {"wait-before-skin"}},
  };
}

std::string text_of(const Situated& s, std::string_view id) {
  for (const Caution& caution : plan::heat_cautions(s.situation, s.timing, shipped().bench_times))
    if (caution.id == id) {
      std::string text;
      for (const Phrase::Part& part : caution.text.parts())
        if (const auto* words = std::get_if<std::string>(&part)) text += *words;
      return text;
    }
  return "";
}

}  // namespace

TEST_SUITE("safety decisions") {
  TEST_CASE("which caution is shown: one condition at a time, and only its own cautions change") {
    const Ids usual = ids_of(base());
    for (const Row& row : rows()) {
      CAPTURE(row.condition);
      Situated turned = base();
      row.turn(turned);
      const Ids ids = ids_of(turned);
      CHECK(less(ids, usual) == row.come);
      CHECK(less(usual, ids) == row.go);
    }
  }

  TEST_CASE("what a caution says follows its own condition") {
    Situated s = base();
    CHECK(text_of(s, "hot-water").find("Wipe") == 0);
    s.situation.dried = false;
    CHECK(text_of(s, "hot-water").find("planned wet") != std::string::npos);
    CHECK(text_of(s, "bath-scald").find("burn") != std::string::npos);
    s.timing.bath_scald = Finding::absent("cool");
    CHECK(text_of(s, "bath-scald").find("burn") == std::string::npos);
  }

  TEST_CASE(
      "under a liner the test on oneself is made over the same liner, and a wait of nothing is no leave") {
    Situated s = base();
    for (const char* id : {"wait-before-skin", "test-on-yourself"}) {
      CAPTURE(id);
      CHECK(text_of(s, id).find("same liner") != std::string::npos);
    }
    s.timing.wait = Figure::stated("wait", Range::exactly(0.0), units::second(), {.basis = Basis::bench});
    CHECK(text_of(s, "wait-before-skin").find("sooner than") == std::string::npos);
    CHECK(text_of(s, "wait-before-skin").find("Dry it first") != std::string::npos);
    CHECK(text_of(s, "wait-before-skin").find("only after you have tested it") != std::string::npos);
    s.situation.liner.reset();
    for (const char* id : {"wait-before-skin", "test-on-yourself"})
      CHECK(text_of(s, id).find("liner") == std::string::npos);
  }

  TEST_CASE("the weak figure named is one that the wait hangs on, where there is such a one") {
    Situated s = base();
    s.timing.wait =
        Figure::derived("wait", Range::exactly(30.0), units::second(), "x", {seconds(Basis::memory)});
    const auto driver = [](const char* result, const char* name, Basis basis) {
      const Figure input =
          Figure::stated(name, Range::exactly(1.0), units::one(), {.basis = basis, .source = "k"});
      return heat::Driver{result, input, input};
    };
    s.timing.drivers = {};
    CHECK(text_of(s, "weak-basis").find("among them: x = ") != std::string::npos);
    s.timing.drivers = {driver("ready", "other result", Basis::memory),
                        driver("wait", "well known", Basis::handbook),
                        driver("wait", "contact", Basis::memory), driver("wait", "later", Basis::memory)};
    CHECK(text_of(s, "weak-basis").find("among them: contact = ") != std::string::npos);
  }

  TEST_CASE("a plan names the skin kinds that are more careful than its own, and no other") {
    struct Planned {
      const char* skin;
      bool names_thin;
      bool names_reduced;
    };
    for (const Planned& planned : {Planned{"adult", true, true}, Planned{"forearm", true, true},
                                   Planned{"thin", false, true}, Planned{"reduced", false, false}}) {
      CAPTURE(planned.skin);
      Situated s = base();
      s.situation.skin = &shipped().skin(planned.skin);
      const std::string text = text_of(s, "skin-kind");
      CHECK((text.find("\"thin\"") != std::string::npos) == planned.names_thin);
      CHECK((text.find("\"reduced\"") != std::string::npos) == planned.names_reduced);
    }
  }

  TEST_CASE("a window shorter than the usual forming time is a caution, and no other one is") {
    const auto of = [](double s) {
      return Figure::stated("x", Range::exactly(s), units::second(), {.basis = Basis::memory});
    };
    CHECK(plan::haste_cautions(of(179.0), of(180.0)).size() == 1);
    CHECK(plan::haste_cautions(of(180.0), of(180.0)).empty());
    CHECK(plan::haste_cautions(Finding::absent("none"), of(180.0)).empty());
  }

  TEST_CASE("a sheet that may bend under the push expected is a caution, one that surely holds is not") {
    const auto cautions_of_first = [](const char* condition) {
      const choice::Choice choice =
          choice::choose(shipped(), {.condition = &shipped().condition(condition), .draws = 400});
      const choice::RankedItem& first = choice.ranking.front();
      Ids ids;
      for (const Caution& caution : plan::choice_cautions(choice, *first.stock, {})) ids.emplace(caution.id);
      return std::pair(choice::figure_named(first.figures, "holds").figure().si(), ids.count("may-bend") > 0);
    };
    bool seen[2] = {false, false};
    for (const char* condition : {"mallet-finger", "carpal-tunnel", "general-light", "spastic-hand"}) {
      CAPTURE(condition);
      const auto [holds, cautioned] = cautions_of_first(condition);
      CHECK(cautioned == (holds < 0.95));
      seen[cautioned ? 1 : 0] = true;
    }
    CHECK(seen[0]);
    CHECK(seen[1]);
  }

  TEST_CASE("a child's plan says that the push is an adult's, until one is stated") {
    const auto told = [](const std::vector<std::string>& precautions, std::optional<Figure> push) {
      choice::Request request{.condition = &shipped().condition("spastic-hand"), .draws = 400};
      request.piece.force = std::move(push);
      const choice::Choice choice = choice::choose(shipped(), request);
      Ids ids;
      for (const Caution& caution : plan::choice_cautions(choice, *choice.ranking.front().stock, precautions))
        ids.emplace(caution.id);
      return ids.count("adult-push") > 0;
    };
    const Figure five = Figure::entered("push", Range::exactly(5.0), *find_unit(Dimension::force, "N"));
    CHECK(told({"child"}, std::nullopt));
    CHECK_FALSE(told({"child"}, five));
    CHECK_FALSE(told({"elder"}, std::nullopt));
  }

  TEST_CASE("a fit to strips says that it tells nothing about skin, and that the bath scalds") {
    Ids ids;
    for (const Caution& caution : plan::calibration_cautions()) ids.emplace(caution.id);
    CHECK(ids == Ids{"strips-not-skin", "skin-not-fitted"});
  }

  TEST_CASE("which skin a plan takes: the most careful that is asked for, one precaution at a time") {
    struct Asked {
      const char* precaution;
      const char* skin;
    };
    // Who the careful limits are for: thinner skin, and skin whose owner may neither feel nor tell (IEC
    // 60601-1 clause 42.3 and the skin file of the library); the rest is no matter of heat.
    const std::vector<Asked> all{{"child", "thin"},
                                 {"elder", "thin"},
                                 {"swelling", "thin"},
                                 {"fragile-skin", "thin"},
                                 {"reduced-sensation", "reduced"},
                                 {"reduced-circulation", "reduced"},
                                 {"graft", "reduced"},
                                 {"open-wound", ""},
                                 {"recent-repair", ""},
                                 {"fresh-injury", ""}};
    CHECK(all.size() == library::precautions().size());
    for (const Asked& asked : all) {
      CAPTURE(asked.precaution);
      CHECK(plan::careful_skin(shipped(), "", {asked.precaution}) == asked.skin);
      const bool asks = !std::string(asked.skin).empty();
      CHECK(plan::skin_cautions(shipped(), shipped().skin("adult"), {asked.precaution}).empty() == !asks);
      CHECK(plan::skin_cautions(shipped(), shipped().skin("reduced"), {asked.precaution}).empty());
    }
    CHECK(plan::careful_skin(shipped(), "", {"graft", "child"}) == "reduced");
    CHECK(plan::careful_skin(shipped(), "", {"child", "graft"}) == "reduced");
    CHECK(plan::careful_skin(shipped(), "reduced", {"child"}) == "reduced");
    CHECK(plan::careful_skin(shipped(), "thin", {}) == "thin");
    CHECK(plan::careful_skin(shipped(), "", {}).empty());
  }

  TEST_CASE("a result is as weak as the weakest it rests on, for every pair of bases in either order") {
    for (const Basis a : all_bases())
      for (const Basis b : all_bases()) {
        CAPTURE(basis_word(a));
        CAPTURE(basis_word(b));
        const Figure sum =
            Figure::derived("sum", Range::exactly(60.0), units::second(), "a + b", {seconds(a), seconds(b)});
        CHECK(sum.basis() == std::min(a, b));
        const Figure again = Figure::derived("again", Range::exactly(60.0), units::second(), "again", {sum});
        CHECK(again.basis() == std::min(a, b));
        CHECK(again.leaves().front().basis() == std::min(a, b));
      }
  }

  TEST_CASE("bases stand in the order of trust that cautions rely on") {
    CHECK(Basis::demo < Basis::memory);
    CHECK(Basis::memory < Basis::practice);
    CHECK(Basis::practice < Basis::handbook);
    CHECK(Basis::handbook < Basis::bench);
    CHECK(Basis::bench < Basis::entered);
  }
}
