// SPDX-License-Identifier: MIT
// Which caution is shown is a safety decision: each condition is turned on and off by itself.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "library/precautions.h"
#include "plan/cautions.h"

using namespace warmsheet;

namespace {

const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

heat::Situation situation(const heat::Request& change = {}) {
  heat::Request request = change;
  request.sheet = "elastic-clear";
  request.samples = 0;
  return heat::resolve(shipped(), request);
}

std::vector<std::string> ids(const heat::Situation& situation, const heat::Timing& timing) {
  std::vector<std::string> found;
  for (const Caution& caution : plan::heat_cautions(situation, timing, shipped().bench_times))
    found.emplace_back(caution.id);
  return found;
}

bool holds(const std::vector<std::string>& ids, const char* id) {
  return std::find(ids.begin(), ids.end(), id) != ids.end();
}

}  // namespace

TEST_SUITE("plan") {
  TEST_CASE("the usual cautions stand with every timing, those with figures first") {
    const auto s = situation();
    const auto found = ids(s, heat::time(s));
    for (const char* id :
         {"wait-before-skin", "test-on-yourself", "bath-scald", "hot-water", "never-fold", "never-insulate",
          "no-liner", "hold-watch", "skin-kind", "skin-check", "keep-cool"})
      CHECK_MESSAGE(holds(found, id), id);
  }

  TEST_CASE("each risk brings its own caution, and only with it") {
    const auto s = situation();
    const heat::Timing timing = heat::time(s);
    SUBCASE("folded sheet") {
      heat::Situation folded = s;
      folded.layers = 2;
      CHECK(holds(ids(folded, timing), "folded"));
      CHECK_FALSE(holds(ids(s, timing), "folded"));
    }
    SUBCASE("wrap") {
      heat::Situation wrapped = s;
      wrapped.wrap = shipped().surroundings.wraps.begin()->second;
      CHECK(holds(ids(wrapped, timing), "wrapped-hot"));
      CHECK_FALSE(holds(ids(s, timing), "wrapped-hot"));
    }
    SUBCASE("liner") {
      heat::Situation lined = s;
      lined.liner = shipped().surroundings.liners.begin()->second;
      CHECK_FALSE(holds(ids(lined, timing), "no-liner"));
    }
    SUBCASE("a bath that is not the sheet's") {
      heat::Situation unusual = s;
      for (const double bath_C : {60.0, 64.9, 75.1, 99.0}) {
        unusual.bath = Figure::entered("bath", Range::exactly(bath_C + 273.15), units::celsius());
        CHECK(holds(ids(unusual, timing), "unusual-bath"));
      }
      for (const double bath_C : {65.0, 70.0, 75.0}) {
        unusual.bath = Figure::entered("bath", Range::exactly(bath_C + 273.15), units::celsius());
        CHECK_FALSE(holds(ids(unusual, timing), "unusual-bath"));
      }
    }
    SUBCASE("central values only") {
      heat::Situation drawn = s;
      drawn.samples = 24;
      CHECK(holds(ids(s, timing), "central-only"));
      CHECK_FALSE(holds(ids(drawn, timing), "central-only"));
    }
    SUBCASE("no safe window") {
      heat::Timing none = timing;
      none.window = Finding::absent("never");
      CHECK(holds(ids(s, none), "no-safe-window"));
      CHECK_FALSE(holds(ids(s, timing), "no-safe-window"));
    }
  }

  TEST_CASE("a safety result on a memory or demo figure says so, one on better figures does not") {
    const auto s = situation();
    heat::Timing timing = heat::time(s);
    const auto figure = [](Basis basis) {
      return Figure::stated("x", Range::exactly(30.0), units::second(), {.basis = basis, .source = "k"});
    };
    for (const Basis basis : all_bases()) {
      CAPTURE(basis_word(basis));
      timing.wait = figure(basis);
      timing.peak_skin = figure(basis);
      timing.damage = figure(basis);
      CHECK(holds(ids(s, timing), "weak-basis") == (basis == Basis::demo || basis == Basis::memory));
    }
  }

  TEST_CASE("the weak-basis caution looks at each of the three safety results") {
    const auto s = situation();
    const Figure strong = Figure::stated("x", Range::exactly(30.0), units::second(), {.basis = Basis::bench});
    const Figure weak = Figure::stated("y", Range::exactly(30.0), units::second(), {.basis = Basis::demo});
    heat::Timing timing = heat::time(s);
    for (Finding heat::Timing::*weak_one :
         {&heat::Timing::wait, &heat::Timing::peak_skin, &heat::Timing::damage}) {
      timing.wait = timing.peak_skin = timing.damage = strong;
      CHECK_FALSE(holds(ids(s, timing), "weak-basis"));
      timing.*weak_one = weak;
      CHECK(holds(ids(s, timing), "weak-basis"));
    }
  }

  TEST_CASE("every precaution a job may name has its own caution") {
    for (const library::Precaution& precaution : library::precautions()) {
      const std::string id(precaution.id);
      CAPTURE(id);
      const auto cautions = plan::precaution_cautions({id});
      REQUIRE(cautions.size() == 1);
      CHECK(cautions.front().id == "precaution-" + id);
    }
    CHECK(plan::precaution_cautions({}).empty());
  }
}
