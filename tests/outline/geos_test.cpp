// SPDX-License-Identifier: MIT
// Offsets and booleans against areas known in closed form: a convex shape of area A and perimeter P grown by
// d has the area A + P d + pi d^2 (Steiner's formula; e.g. Schneider, Convex Bodies, 4.1; from memory).
#include "outline/geos.h"

#include <doctest/doctest.h>

#include <numbers>
#include <thread>

#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using testing::near_abs;
using testing::near_rel;

namespace {

constexpr double pi = std::numbers::pi;

Polygon rectangle(double x, double y, double w, double h) {
  return Polygon::make({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, {}, {});
}

double total(const std::vector<geos::Piece>& pieces) {
  double area = 0.0;
  for (const geos::Piece& piece : pieces) area += piece.area_mm2();
  return area;
}

}  // namespace

TEST_CASE("a convex shape grows by Steiner's formula and shrinks by its edges") {
  const Polygon shape = rectangle(0, 0, 80, 50);
  for (const double d : {1.0, 5.0, 20.0}) {
    CAPTURE(d);
    // 64 chords a quarter leave (1 - sin(a)/a) of the corner circle out: 1e-4 of pi d^2.
    CHECK(near_abs(total(geos::offset(shape, d, 64)), 4000.0 + 260.0 * d + pi * d * d, 2e-4 * pi * d * d));
    CHECK(near_rel(total(geos::offset(shape, -d, 64)), (80.0 - 2.0 * d) * (50.0 - 2.0 * d), 1e-12));
  }
  CHECK(geos::offset(shape, -26.0).empty());
}

TEST_CASE("a frame shrinks on both sides and its hole closes when it grows") {
  const Polygon frame =
      Polygon::make({{0, 0}, {40, 0}, {40, 40}, {0, 40}}, {{{10, 10}, {10, 30}, {30, 30}, {30, 10}}}, {});
  CHECK(geos::offset(frame, 11.0).front().holes.empty());
  CHECK(geos::offset(frame, 2.0).front().holes.size() == 1);
  CHECK(geos::offset(frame, -6.0).empty());
}

TEST_CASE("overlap, union and difference add up") {
  const Polygon a = rectangle(0, 0, 60, 40);
  const Polygon b = rectangle(50, 30, 60, 40);
  CHECK(near_rel(geos::overlap_mm2(a, b), 100.0, 1e-12));
  CHECK(near_rel(total(geos::unite({a, b})), 4700.0, 1e-12));
  CHECK(near_rel(total(geos::subtract(a, b)), 2300.0, 1e-12));
  CHECK(geos::unite({a, rectangle(500, 0, 10, 10)}).size() == 2);
}

TEST_CASE("a cut through the middle leaves two pieces, a window leaves a hole") {
  const Polygon plate = rectangle(0, 0, 100, 40);
  CHECK(geos::subtract(plate, rectangle(45, -10, 10, 60)).size() == 2);
  const auto window = geos::subtract(plate, rectangle(45, 10, 10, 10));
  CHECK(window.size() == 1);
  CHECK(window.front().holes.size() == 1);
  CHECK(near_rel(window.front().area_mm2(), 3900.0, 1e-12));
}

TEST_CASE("distance and containment of areas") {
  const Polygon a = rectangle(0, 0, 10, 10);
  CHECK(near_rel(geos::distance_mm(a, rectangle(13, 14, 5, 5)), 5.0, 1e-12));  // 3-4-5
  CHECK(geos::distance_mm(a, rectangle(10, 0, 5, 5)) == 0.0);
  CHECK(geos::contains(a, rectangle(0, 0, 10, 5)));
  CHECK_FALSE(geos::contains(a, rectangle(5, 5, 6, 2)));
}

TEST_CASE("threads do not disturb each other") {
  std::vector<double> areas(4, 0.0);
  std::vector<std::thread> threads;
  for (std::size_t i = 0; i < areas.size(); ++i)
    threads.emplace_back([&areas, i] {
      for (int round = 0; round < 50; ++round)
        areas[i] = total(geos::offset(rectangle(0, 0, 10.0 + double(i), 10), 1.0));
    });
  for (std::thread& thread : threads) thread.join();
  for (std::size_t i = 0; i < areas.size(); ++i)
    CHECK(areas[i] == total(geos::offset(rectangle(0, 0, 10.0 + double(i), 10), 1.0)));
}
