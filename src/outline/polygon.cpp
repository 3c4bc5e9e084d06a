// SPDX-License-Identifier: MIT
#include "outline/polygon.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/dimension.h"
#include "outline/geos.h"
#include "outline/refuse.h"

namespace warmsheet::outline {
namespace {

/// Vertices nearer than this are one vertex: far below what a cutter or a drawing program resolves.
constexpr double same_point_mm = 1e-6;
/// A ring below this is a slip of the pen, not an opening or a piece of sheet.
constexpr double smallest_area_mm2 = 0.01;
/// No sheet is larger; a bigger coordinate is a unit slip.
constexpr double largest_coordinate_mm = 10'000.0;

double distance_mm(const Point& a, const Point& b) {
  return std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm);
}

std::string at(const Point& p) {
  return fmt::format("x = {:.3f} mm, y = {:.3f} mm", p.x_mm, p.y_mm);
}

void check_coordinates(const Ring& ring, const Place& place) {
  for (const Point& p : ring) {
    if (!std::isfinite(p.x_mm) || !std::isfinite(p.y_mm))
      refuse(place, "a coordinate of the shape is not a number", "write plain decimal numbers");
    if (std::abs(p.x_mm) > largest_coordinate_mm || std::abs(p.y_mm) > largest_coordinate_mm)
      refuse(place, fmt::format("a point lies more than 10 m from the origin ({})", at(p)),
             "check the unit of the drawing");
  }
}

Ring without_repeats(const Ring& ring) {
  Ring kept;
  for (const Point& p : ring)
    if (kept.empty() || distance_mm(kept.back(), p) > same_point_mm) kept.push_back(p);
  while (kept.size() > 1 && distance_mm(kept.front(), kept.back()) <= same_point_mm) kept.pop_back();
  return kept;
}

Ring cleaned(const Ring& ring, const Place& place, bool is_hole) {
  check_coordinates(ring, place);
  Ring kept = without_repeats(ring);
  const std::string_view what = is_hole ? "a hole" : "the outline";
  if (kept.size() < 3)
    refuse(place, fmt::format("{} has fewer than three corners", what),
           "give at least three different points");
  return kept;
}

/// Two loops of a ring that crosses itself can cancel each other, so the crossing is named with its place.
void check_area(const Ring& ring, const Place& place, bool is_hole) {
  if (std::abs(signed_area_mm2(ring)) >= smallest_area_mm2) return;
  const auto flaw = geos::find_flaw(ring, {});
  refuse(place,
         fmt::format("{} encloses no area{}, near {}", is_hole ? "a hole" : "the outline",
                     flaw ? ": it crosses itself or runs back on itself" : "",
                     at(flaw ? flaw->at : ring.front())),
         "draw it as a closed shape with an inside");
}

Ring turned(Ring ring, bool counter_clockwise) {
  if ((signed_area_mm2(ring) > 0.0) != counter_clockwise) std::reverse(ring.begin(), ring.end());
  return ring;
}

void check_count(const Ring& outer, const std::vector<Ring>& holes, const Place& place) {
  std::size_t count = outer.size();
  for (const Ring& hole : holes) count += hole.size();
  if (count <= largest_vertex_count) return;
  refuse(place, fmt::format("the shape has {} points; at most {} are read", count, largest_vertex_count),
         "simplify it in the drawing program, or ask for a coarser tolerance");
}

/// Area-weighted centre of a ring times its signed area, relative to `from` so that far-off shapes keep their
/// digits.
Point first_moment(const Ring& ring, const Point& from) {
  Point moment;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point a{ring[i].x_mm - from.x_mm, ring[i].y_mm - from.y_mm};
    const Point& next = ring[(i + 1) % ring.size()];
    const Point b{next.x_mm - from.x_mm, next.y_mm - from.y_mm};
    const double cross = a.x_mm * b.y_mm - b.x_mm * a.y_mm;
    moment.x_mm += (a.x_mm + b.x_mm) * cross / 6.0;
    moment.y_mm += (a.y_mm + b.y_mm) * cross / 6.0;
  }
  return moment;
}

}  // namespace

double signed_area_mm2(const Ring& ring) {
  if (ring.size() < 3) return 0.0;
  const Point& from = ring.front();  // keeps the digits of a small ring far from the origin
  double twice = 0.0;
  for (std::size_t i = 1; i + 1 < ring.size(); ++i)
    twice += (ring[i].x_mm - from.x_mm) * (ring[i + 1].y_mm - from.y_mm) -
             (ring[i + 1].x_mm - from.x_mm) * (ring[i].y_mm - from.y_mm);
  return 0.5 * twice;
}

Box box_of(const Ring& ring) {
  Box box{ring.front(), ring.front()};
  for (const Point& p : ring) {
    box.low = {std::min(box.low.x_mm, p.x_mm), std::min(box.low.y_mm, p.y_mm)};
    box.high = {std::max(box.high.x_mm, p.x_mm), std::max(box.high.y_mm, p.y_mm)};
  }
  return box;
}

double path_length_mm(const Path& path) {
  double length = 0.0;
  for (std::size_t i = 1; i < path.size(); ++i)
    length += std::hypot(path[i].x_mm - path[i - 1].x_mm, path[i].y_mm - path[i - 1].y_mm);
  return length;
}

double ring_length_mm(const Ring& ring) {
  double length = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) length += distance_mm(ring[i], ring[(i + 1) % ring.size()]);
  return length;
}

bool ring_holds(const Ring& ring, const Point& p) {
  bool inside = false;
  for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
    const Point& a = ring[i];
    const Point& b = ring[j];
    if ((a.y_mm > p.y_mm) == (b.y_mm > p.y_mm)) continue;
    if (p.x_mm < (b.x_mm - a.x_mm) * (p.y_mm - a.y_mm) / (b.y_mm - a.y_mm) + a.x_mm) inside = !inside;
  }
  return inside;
}

Polygon Polygon::make(Ring outer, std::vector<Ring> holes, const Place& place) {
  check_count(outer, holes, place);
  Polygon made;
  made.outer_ = cleaned(outer, place, false);
  for (const Ring& hole : holes) made.holes_.push_back(cleaned(hole, place, true));
  check_area(made.outer_, place, false);
  for (const Ring& hole : made.holes_) check_area(hole, place, true);
  if (const auto flaw = geos::find_flaw(made.outer_, made.holes_))
    refuse(place, fmt::format("{}, near {}", flaw->reason, at(flaw->at)),
           "redraw the shape there: edges must not meet, and holes lie apart inside the outline");
  made.settle();
  return made;
}

void Polygon::settle() {
  outer_ = turned(std::move(outer_), true);
  area_mm2_ = signed_area_mm2(outer_);
  for (Ring& hole : holes_) {
    hole = turned(std::move(hole), false);
    area_mm2_ += signed_area_mm2(hole);
  }
  box_ = box_of(outer_);
}

double Polygon::perimeter_mm() const {
  double length = ring_length_mm(outer_);
  for (const Ring& hole : holes_) length += ring_length_mm(hole);
  return length;
}

Point Polygon::centroid() const {
  const Point from = outer_.front();
  Point moment = first_moment(outer_, from);
  for (const Ring& hole : holes_) {
    const Point part = first_moment(hole, from);
    moment = {moment.x_mm + part.x_mm, moment.y_mm + part.y_mm};
  }
  return {from.x_mm + moment.x_mm / area_mm2_, from.y_mm + moment.y_mm / area_mm2_};
}

Polygon Polygon::mirrored() const {
  Polygon made = *this;
  const auto mirror = [](Ring& ring) {
    for (Point& p : ring) p.x_mm = -p.x_mm;
  };
  mirror(made.outer_);
  for (Ring& hole : made.holes_) mirror(hole);
  made.settle();
  return made;
}

Polygon Polygon::placed(double angle_deg, Point move) const {
  // Quarter turns are exact, so that rectangles stay rectangles.
  const double quarters = angle_deg / 90.0;
  const double angle = rad_of_deg(angle_deg);
  const bool exact = quarters == std::round(quarters);
  const double cosine = exact ? std::round(std::cos(angle)) : std::cos(angle);
  const double sine = exact ? std::round(std::sin(angle)) : std::sin(angle);
  Polygon made = *this;
  const auto turn = [&](Ring& ring) {
    for (Point& p : ring)
      p = {cosine * p.x_mm - sine * p.y_mm + move.x_mm, sine * p.x_mm + cosine * p.y_mm + move.y_mm};
  };
  turn(made.outer_);
  for (Ring& hole : made.holes_) turn(hole);
  made.settle();
  return made;
}

}  // namespace warmsheet::outline
