// SPDX-License-Identifier: MIT
// A sheet lifted at a time of the user's own, before or after the water is done with it.
#include <algorithm>

#include "heat/cases.h"
#include "heat/timings.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

using testing::near_abs;
using testing::near_rel;

TEST_CASE("lifted early, the sheet carries the bath's figures to the skin, and its results rest on them") {
  Request r = request();
  r.perforation = "maxi";
  r.thickness = Figure::entered("thickness", Range::exactly(3.2e-3), units::millimetre());
  const auto rests_on = [](const Finding& f, const std::string& name) {
    const auto leaves = f.figure().leaves();
    return std::any_of(leaves.begin(), leaves.end(), [&](const Figure& l) { return l.name() == name; });
  };
  const Timing soaked = timing_of(r);
  r.lifted = Figure::entered("lifted", Range::exactly(25.0), units::second());
  const Timing lifted = timing_of(r);
  for (const char* name : {"film", "perforation.maxi.diameter", "perforation.maxi.pitch"}) {
    CAPTURE(name);
    CHECK_FALSE(rests_on(soaked.peak_skin, name));
    CHECK(rests_on(lifted.wait, name));
    CHECK(rests_on(lifted.peak_skin, name));
  }
  CHECK(lifted.wait.figure().basis() == Basis::demo);  // as the shipped holes are
  // And they do bear on it: a film that heats slowly leaves less heat for the skin.
  const auto wait_with = [&](double film_W_m2K) {
    r.film = Figure::entered("film", Range::exactly(film_W_m2K), unit(Dimension::film_coefficient));
    return seconds(timing_of(r).wait);
  };
  CHECK(wait_with(150.0) < wait_with(1000.0));
}

TEST_CASE(
    "lifted late enough, a sheet times like one that is left in, and is not told that it came out early") {
  Request r = request(32);
  const Timing soaked = timing_of(r);
  r.lifted = Figure::entered("lifted", Range::exactly(900.0), units::second());
  const Timing lifted = timing_of(r);
  REQUIRE(lifted.window.known());
  // A quarter of an hour is some ten times what its middle takes to come within a kelvin of the bath.
  CHECK(near_rel(seconds(lifted.closes), seconds(soaked.closes), 0.01));
  CHECK(near_abs(seconds(lifted.wait), seconds(soaked.wait), 1.0));
  r.skin = "reduced";
  const Timing reduced = timing_of(r);
  REQUIRE_FALSE(reduced.window.known());
  CHECK(reduced.window.reason().find("lifted") == std::string::npos);
}

TEST_CASE("lifted so that some draws are soft throughout and others are not, it says so") {
  Request r = request(32);
  r.lifted = Figure::entered("lifted", Range::exactly(66.0), units::second());
  const Timing t = timing_of(r);
  CHECK_FALSE(t.safe_window());
  CHECK(t.window.reason().find("lifted so early it may not be soft throughout") != std::string::npos);
}

TEST_CASE("a sheet lifted before it is soft has no window and says why") {
  Request r = request(32);
  r.lifted = Figure::entered("lifted", Range::exactly(5.0), units::second());
  const Timing t = timing_of(r);
  CHECK_FALSE(t.safe_window());
  REQUIRE_FALSE(t.window.known());
  CHECK(t.window.reason().find("lifted so early") != std::string::npos);
}

}  // namespace
}  // namespace warmsheet::heat_tests
