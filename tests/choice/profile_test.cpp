// SPDX-License-Identifier: MIT
#include "choice/profile.h"

#include <doctest/doctest.h>

#include <cmath>

#include "choice/trough.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::choice;
using testing::near_rel;

namespace {

constexpr double thickness_m = 3.0e-3;
constexpr double anything_m = 10.0;

double flat_m4(double width_m, double) {
  return width_m * std::pow(thickness_m, 3) / 12.0;
}

outline::Polygon trapezoid(double top_mm, double bottom_mm) {
  return outline::Polygon::make(
      {{-bottom_mm / 2, 0}, {bottom_mm / 2, 0}, {top_mm / 2, 300}, {-top_mm / 2, 300}}, {}, {});
}

Strip whole(const outline::Polygon& shape) {
  return equivalent_strip(widths_of(shape), {0.0, 1.0, anything_m, anything_m}, flat_m4);
}

}  // namespace

TEST_CASE("an even strip is itself") {
  const Strip strip = whole(trapezoid(50, 50));
  CHECK(near_rel(strip.width_m, 0.050, 1e-9));
  CHECK(near_rel(strip.second_moment_m4, flat_m4(0.050, 1.0), 1e-9));
}

// Flat leaf springs, held at the wide end and loaded at the other, against an even one of the root's width: a
// triangular one gives 3/2 as much, a trapezoidal one, with r = tip over root, 3 (1/2 - 2 r + r^2 (3/2 - ln
// r)) / (1 - r)^3 (every spring handbook; from memory). Midpoints of 48 steps are good to (1/48)^2.
TEST_CASE("tapered leaves give as the spring handbook's factor says") {
  const auto factor = [](double tip_over_root) {
    const Strip strip = whole(trapezoid(100.0 * tip_over_root, 100.0));
    return flat_m4(0.100, 1.0) / strip.second_moment_m4;
  };
  const auto handbook = [](double r) {
    return 3.0 * (0.5 - 2.0 * r + r * r * (1.5 - std::log(r))) / std::pow(1.0 - r, 3);
  };
  for (const double r : {0.2, 0.4, 0.6, 0.8}) {
    CAPTURE(r);
    CHECK(near_rel(factor(r), handbook(r), 1e-3));
  }
  CHECK(near_rel(factor(1e-6), 1.5, 1e-3));
}

TEST_CASE("holes are not material, and a part cut through has none") {
  const auto plate = outline::Polygon::make({{0, 0}, {100, 0}, {100, 300}, {0, 300}},
                                            {{{30, 140}, {70, 140}, {70, 160}, {30, 160}}}, {});
  CHECK(near_rel(widths_of(plate)(0.5), 0.060, 1e-9));
  CHECK(near_rel(widths_of(plate)(0.25), 0.100, 1e-9));
  const Strip cut = equivalent_strip([](double share) { return share > 0.4 && share < 0.6 ? 0.0 : 0.1; },
                                     {0.0, 1.0, anything_m, anything_m}, flat_m4);
  CHECK(cut.second_moment_m4 == 0.0);
}

TEST_CASE("material that lies on another part of the limb is not counted") {
  const Strip strip = equivalent_strip(widths_of(trapezoid(200, 200)), {0.0, 1.0, 0.080, 0.080}, flat_m4);
  CHECK(near_rel(strip.width_m, 0.080, 1e-9));
}

TEST_CASE("the argument of a growing function is found") {
  CHECK(near_rel(argument_for(2.0, 10.0, [](double x) { return x * x; }), std::sqrt(2.0), 1e-9));
  CHECK(near_rel(argument_for(1e9, 10.0, [](double x) { return x * x; }), 10.0, 1e-9));
}
