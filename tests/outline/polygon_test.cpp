// SPDX-License-Identifier: MIT
// Areas and centroids of shapes whose formulas are in every handbook of plane figures (e.g. Bronstein,
// Semendjajew, Taschenbuch der Mathematik, plane figures; from memory), and what must not change when a shape
// is moved.
#include "outline/polygon.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <string>

#include "outline/corners.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::outline;
using testing::near_abs;
using testing::near_rel;

namespace {

constexpr double pi = std::numbers::pi;

Polygon made(Ring outer, std::vector<Ring> holes = {}) {
  return Polygon::make(std::move(outer), std::move(holes), {});
}

Ring rectangle(double x, double y, double w, double h) {
  return {{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}};
}

/// A star-shaped ring round a centre: never crosses itself.
rc::Gen<Ring> star_ring() {
  return rc::gen::map(
      rc::gen::container<std::vector<int>>(9, rc::gen::inRange(20, 120)), [](const std::vector<int>& radii) {
        Ring ring;
        for (std::size_t i = 0; i < radii.size(); ++i) {
          const double angle = 2.0 * pi * static_cast<double>(i) / static_cast<double>(radii.size());
          ring.push_back({300.0 + radii[i] * std::cos(angle), -80.0 + radii[i] * std::sin(angle)});
        }
        return ring;
      });
}

std::string refusal(Ring outer, std::vector<Ring> holes = {}) {
  try {
    Polygon::make(std::move(outer), std::move(holes), {"shape.csv", 3, 0});
  } catch (const Failure& failure) {
    return failure.what();
  }
  return "accepted";
}

}  // namespace

TEST_CASE("areas, perimeters and centroids of known shapes") {
  struct Row {
    std::string name;
    Polygon shape;
    double area_mm2;
    double perimeter_mm;
    Point centroid;
  };
  const std::vector<Row> rows{
      {"rectangle", made(rectangle(0, 0, 80, 50)), 4000.0, 260.0, {40.0, 25.0}},
      {"3-4-5 triangle", made({{0, 0}, {40, 0}, {0, 30}}), 600.0, 120.0, {40.0 / 3.0, 10.0}},
      // a = 100, b = 60, h = 50: area (a+b)h/2, centroid h (a + 2b) / (3 (a + b)) above the long side
      {"trapezium",
       made({{0, 0}, {100, 0}, {80, 50}, {20, 50}}),
       4000.0,
       160.0 + 2.0 * std::hypot(20.0, 50.0),
       {50.0, 50.0 * 220.0 / 480.0}},
      {"square with a square hole",
       made(rectangle(0, 0, 40, 40), {rectangle(20, 10, 10, 10)}),
       1500.0,
       200.0,
       {(1600.0 * 20.0 - 100.0 * 25.0) / 1500.0, (1600.0 * 20.0 - 100.0 * 15.0) / 1500.0}},
      {"L",
       made({{0, 0}, {60, 0}, {60, 20}, {20, 20}, {20, 80}, {0, 80}}),
       2400.0,
       280.0,
       {(1200.0 * 30.0 + 1200.0 * 10.0) / 2400.0, (1200.0 * 10.0 + 1200.0 * 50.0) / 2400.0}},
  };
  for (const Row& row : rows) {
    CAPTURE(row.name);
    CHECK(near_rel(row.shape.area_mm2(), row.area_mm2, 1e-14));
    CHECK(near_rel(row.shape.perimeter_mm(), row.perimeter_mm, 1e-14));
    CHECK(near_abs(row.shape.centroid().x_mm, row.centroid.x_mm, 1e-12));
    CHECK(near_abs(row.shape.centroid().y_mm, row.centroid.y_mm, 1e-12));
  }
}

TEST_CASE("a regular polygon has the area n r^2 sin(2 pi / n) / 2") {
  for (const int n : {3, 4, 5, 6, 12, 360}) {
    CAPTURE(n);
    Ring ring;
    for (int i = 0; i < n; ++i)
      ring.push_back({1000.0 + 50.0 * std::cos(2.0 * pi * i / n), 50.0 * std::sin(2.0 * pi * i / n)});
    CHECK(near_rel(made(ring).area_mm2(), 0.5 * n * 2500.0 * std::sin(2.0 * pi / n), 1e-12));
  }
}

TEST_CASE("rings are oriented and repeated corners dropped") {
  Ring clockwise{{0, 0}, {0, 0}, {0, 50}, {80, 50}, {80, 50}, {80, 0}, {0, 0}};
  const Polygon shape = made(clockwise, {rectangle(10, 10, 5, 5)});
  CHECK(shape.outer().size() == 4);
  CHECK(signed_area_mm2(shape.outer()) > 0.0);
  CHECK(signed_area_mm2(shape.holes().front()) < 0.0);
}

TEST_CASE("what bounds no area is refused with the reason and the place") {
  const Ring square = rectangle(0, 0, 100, 100);
  struct Row {
    std::string name;
    std::string seen;
    const char* expected;
  };
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const std::vector<Row> rows{
      {"two corners", refusal({{0, 0}, {10, 0}}), "fewer than three corners"},
      {"all the same corner", refusal({{1, 1}, {1, 1}, {1, 1}, {1, 1}}), "fewer than three corners"},
      {"on one line", refusal({{0, 0}, {50, 0}, {100, 0}}), "encloses no area"},
      {"bow tie", refusal({{0, 0}, {100, 100}, {100, 0}, {0, 80}}), "crosses itself"},
      {"bow tie's place", refusal({{0, 0}, {100, 100}, {100, 0}, {0, 80}}), "x = 44.444 mm, y = 44.444 mm"},
      {"touches itself", refusal({{0, 0}, {100, 0}, {100, 100}, {50, 0}, {0, 100}}), "itself"},
      {"hole outside", refusal(square, {rectangle(200, 0, 10, 10)}), "outside"},
      {"hole across the edge", refusal(square, {rectangle(90, 40, 20, 20)}), "crosses"},
      {"hole touches the edge in a point", refusal(square, {{{100, 50}, {90, 60}, {90, 40}}}),
       "touches the edge"},
      {"hole along the edge", refusal(square, {rectangle(90, 40, 10, 20)}), "x = 100.000 mm"},
      {"holes overlap", refusal(square, {rectangle(10, 10, 30, 30), rectangle(30, 30, 30, 30)}), "crosses"},
      {"holes touch in a point", refusal(square, {rectangle(10, 10, 20, 20), rectangle(30, 30, 20, 20)}),
       "two holes touch"},
      {"hole in a hole", refusal(square, {rectangle(10, 10, 50, 50), rectangle(20, 20, 10, 10)}),
       "inside another hole"},
      {"hole as large as the outline", refusal(square, {square}), "shape.csv:3"},
      {"hole without area", refusal(square, {{{10, 10}, {20, 10}, {30, 10}}}), "a hole encloses no area"},
      {"not a number", refusal({{0, 0}, {nan, 0}, {10, 10}}), "not a number"},
      {"infinite", refusal({{0, 0}, {std::numeric_limits<double>::infinity(), 0}, {10, 10}}), "not a number"},
      {"12 m away", refusal({{0, 0}, {12'000, 0}, {0, 100}}), "more than 10 m"},
      {"too many corners", refusal(Ring(largest_vertex_count + 1)), "at most 200000 are read"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.name);
    CHECK_MESSAGE(row.seen.find(row.expected) != std::string::npos, row.seen);
  }
}

TEST_CASE("area and perimeter do not change when a shape is turned, moved or mirrored") {
  CHECK(rc::check([] {
    const Polygon shape = made(*star_ring());
    const double angle = *rc::gen::inRange(-720, 720) + 0.37;
    const Polygon placed = shape.placed(angle, {12.5, -40.0}).mirrored();
    RC_ASSERT(near_rel(placed.area_mm2(), shape.area_mm2(), 1e-11).near);
    RC_ASSERT(near_rel(placed.perimeter_mm(), shape.perimeter_mm(), 1e-12).near);
    RC_ASSERT(signed_area_mm2(placed.outer()) > 0.0);
  }));
}

TEST_CASE("the centroid moves with the shape") {
  CHECK(rc::check([] {
    const Polygon shape = made(*star_ring());
    const Point before = shape.centroid();
    const Point after = shape.placed(90.0, {7.0, 9.0}).centroid();
    RC_ASSERT(near_abs(after.x_mm, -before.y_mm + 7.0, 1e-9).near);
    RC_ASSERT(near_abs(after.y_mm, before.x_mm + 9.0, 1e-9).near);
    RC_ASSERT(near_abs(shape.mirrored().centroid().x_mm, -before.x_mm, 1e-9).near);
  }));
}

TEST_CASE("area grows with the square of the size") {
  CHECK(rc::check([] {
    const Ring ring = *star_ring();
    const double factor = *rc::gen::inRange(1, 40) / 8.0;
    Ring larger;
    for (const Point& p : ring) larger.push_back({factor * p.x_mm, factor * p.y_mm});
    RC_ASSERT(near_rel(made(larger).area_mm2(), factor * factor * made(ring).area_mm2(), 1e-11).near);
  }));
}

TEST_CASE("quarter turns are exact, so rectangles stay rectangles") {
  const Polygon turned = made(rectangle(0, 0, 300.1, 200.7)).placed(270.0, {});
  CHECK(turned.box().width_mm() == 200.7);
  CHECK(turned.box().height_mm() == 300.1);
}

TEST_CASE("a rounded square has the area s^2 - (4 - pi) r^2") {
  for (const double r : {1.0, 10.0, 40.0, 50.0, 500.0}) {
    CAPTURE(r);
    std::vector<Corner> corners;
    for (const Point& p : rectangle(0, 0, 100, 100)) corners.push_back({p, r});
    constexpr double tolerance_mm = 1e-5;
    const RoundedRing rounded = round_corners(corners, tolerance_mm);
    const double drawn = std::min(r, 50.0);  // half the side is all that fits
    // Chords lie inside the arcs by at most the tolerance, over the length of the arcs.
    CHECK(near_abs(made(rounded.ring).area_mm2(), 1e4 - (4.0 - pi) * drawn * drawn,
                   tolerance_mm * 2.0 * pi * drawn + 1e-9));
    for (const RoundedCorner& corner : rounded.corners) CHECK(near_rel(corner.radius_mm, drawn, 1e-12));
  }
}

TEST_CASE("a corner that turns inward is rounded too, and a straight one stays as it is") {
  // L with a 20 mm arm: rounding the inner corner adds (1 - pi/4) r^2.
  std::vector<Corner> corners{{{0, 0}},   {{60, 0}}, {{60, 20}},    {{20, 20}, 8.0},
                              {{20, 80}}, {{0, 80}}, {{0, 40}, 5.0}};
  const RoundedRing rounded = round_corners(corners, 1e-5);
  CHECK(near_abs(made(rounded.ring).area_mm2(), 2400.0 + (1.0 - pi / 4.0) * 64.0, 1e-3));
  CHECK(near_abs(rounded.corners[3].turn_deg, -90.0, 1e-9));
  CHECK(rounded.corners[6].radius_mm == 0.0);
}

TEST_CASE("chords of an arc stay within the tolerance and on the arc") {
  const Ring ring = ellipse_ring({3.0, 4.0}, 25.0, 25.0, 0.05);
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point& a = ring[i];
    const Point& b = ring[(i + 1) % ring.size()];
    CHECK(near_rel(std::hypot(a.x_mm - 3.0, a.y_mm - 4.0), 25.0, 1e-12));
    CHECK(std::hypot(0.5 * (a.x_mm + b.x_mm) - 3.0, 0.5 * (a.y_mm + b.y_mm) - 4.0) >= 25.0 - 0.05);
  }
}
