// SPDX-License-Identifier: MIT
// Where there is no moment to touch skin, no window or no setting: that is said, with why and what may help.
#include <string>

#include "base/problem.h"
#include "heat/cases.h"
#include "heat/timings.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

TEST_CASE("a sheet that stiffens before skin can bear it has no window and says why") {
  Request r = request(32);
  r.skin = "reduced";
  r.layers = 2;
  const Timing t = timing_of(r);
  CHECK_FALSE(t.safe_window());
  REQUIRE_FALSE(t.window.known());
  CHECK(t.window.reason().find("thinner") != std::string::npos);
}

TEST_CASE("whether skin may be touched at all: each condition of the decision by itself") {
  // There must be a safe moment for the central figures, and one that 95 of 100 draws share, within an hour.
  struct Row {
    const char* label;
    double thickness_mm;
    int samples;
    bool may_touch;
  };
  for (const Row& row : {Row{"a safe moment for the central figures", 2.0, 0, true},
                         Row{"none for them: too thick to cool in an hour", 2.4, 0, false},
                         Row{"one for them, none that the draws share", 2.0, 32, false}}) {
    CAPTURE(std::string(row.label));
    Request r = request(row.samples);
    r.skin = "reduced";
    r.layers = 4;
    r.area = Figure::entered("--size", Range::exactly(410e-4), units::square_centimetre());
    r.room = Figure::entered("room", Range::exactly(303.15), units::celsius());
    r.thickness = Figure::entered("thickness", Range::exactly(1e-3 * row.thickness_mm), units::millimetre());
    const Timing t = timing_of(r);
    CHECK(t.wait.known() == row.may_touch);
    if (row.may_touch) continue;
    CHECK_FALSE(t.safe_window());
    for (const Finding* finding : {&t.wait, &t.closes, &t.window, &t.set, &t.peak_skin}) {
      REQUIRE_FALSE(finding->known());
      CHECK(finding->reason().find("no moment") != std::string::npos);
    }
  }
}

TEST_CASE("a sheet that does not set within an hour on the limb has no time at which it does") {
  library::Library slow = library::load({});
  const auto thermal = [&]() -> library::Thermal& { return slow.sheets.at("elastic-clear").thermal; };
  const auto half_time = [](Range s) {
    return Figure::stated("half_time_42", s, units::second(), {.basis = Basis::memory});
  };
  const auto refusal = [&](int samples) -> std::string {
    Request r = request(samples);
    r.room = Figure::entered("room", Range::exactly(kelvin(34.0)), units::celsius());
    try {
      static_cast<void>(time(resolve(slow, r)));
    } catch (const Failure& failure) {
      CHECK(failure.trouble() == Trouble::no_answer);
      return failure.what();
    }
    return "";
  };
  thermal().half_time_42 = half_time(Range::exactly(30000.0));
  CHECK(refusal(0).find("does not set on the limb within an hour") != std::string::npos);
  // Central figures that set, and more than one draw in twenty that does not.
  thermal().half_time_42 = half_time({600.0, 300.0, 60000.0});
  CHECK(refusal(0).empty());
  CHECK(refusal(64).find("may not set on the limb within an hour: in ") != std::string::npos);
}

TEST_CASE("why there is no window names what may open one, and nothing that is there already") {
  Request r = request(32);
  r.skin = "reduced";
  const std::string bare = timing_of(r).window.reason();
  CHECK(bare.find("a liner") != std::string::npos);
  CHECK(bare.find("drying") == std::string::npos);
  CHECK(bare.find("one layer") == std::string::npos);
  r.liner = "stockinette";
  r.layers = 2;
  r.dried = false;
  r.wrap = "dry-towel";
  const std::string all = timing_of(r).window.reason();
  CHECK(all.find("a liner") == std::string::npos);
  CHECK(all.find("a second layer of liner") != std::string::npos);
  for (const char* help : {"drying", "one layer", "no wrap"}) CHECK(all.find(help) != std::string::npos);
}

}  // namespace
}  // namespace warmsheet::heat_tests
