// SPDX-License-Identifier: MIT
#include "outline/corners.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/dimension.h"
#include "outline/pen.h"

namespace warmsheet::outline {
namespace {

constexpr double same_corner_mm = 1e-6;
/// An edge that turns less than this has no corner to round.
constexpr double straight_rad = 1e-6;
/// An edge that turns back on itself has no arc; the shape's own check then names the place.
constexpr double reversal_rad = std::numbers::pi - 1e-3;

Point minus(const Point& a, const Point& b) {
  return {a.x_mm - b.x_mm, a.y_mm - b.y_mm};
}
double length(const Point& p) {
  return std::hypot(p.x_mm, p.y_mm);
}
Point along(const Point& from, const Point& direction, double distance_mm) {
  return {from.x_mm + direction.x_mm * distance_mm, from.y_mm + direction.y_mm * distance_mm};
}
Point unit(const Point& p) {
  return {p.x_mm / length(p), p.y_mm / length(p)};
}

struct Bend {
  std::size_t index;
  Point at;
  double radius_mm;
  Point into;         // unit direction of the edge that comes in
  Point out;          // and of the one that leaves
  double turn_rad;    // signed
  double tangent_mm;  // distance from the corner to where the arc begins
};

std::vector<Bend> bends_of(const std::vector<Corner>& corners, bool ring) {
  std::vector<Bend> bends;
  for (std::size_t i = 0; i < corners.size(); ++i)
    if (bends.empty() || length(minus(corners[i].at, bends.back().at)) > same_corner_mm)
      bends.push_back({i, corners[i].at, corners[i].radius_mm, {}, {}, 0.0, 0.0});
  while (ring && bends.size() > 1 && length(minus(bends.front().at, bends.back().at)) <= same_corner_mm)
    bends.pop_back();
  return bends;
}

void measure(std::vector<Bend>& bends) {
  const std::size_t size = bends.size();
  for (std::size_t i = 0; i < size; ++i) {
    Bend& bend = bends[i];
    bend.into = unit(minus(bend.at, bends[(i + size - 1) % size].at));
    bend.out = unit(minus(bends[(i + 1) % size].at, bend.at));
    bend.turn_rad = std::atan2(bend.into.x_mm * bend.out.y_mm - bend.into.y_mm * bend.out.x_mm,
                               bend.into.x_mm * bend.out.x_mm + bend.into.y_mm * bend.out.y_mm);
    const double turn = std::abs(bend.turn_rad);
    if (turn > straight_rad && turn < reversal_rad) bend.tangent_mm = bend.radius_mm * std::tan(0.5 * turn);
  }
}

/// Shrinks the arcs at both ends of an edge that is too short for them.
void fit(std::vector<Bend>& bends) {
  const std::size_t size = bends.size();
  std::vector<double> share(size, 1.0);
  for (std::size_t i = 0; i < size; ++i) {
    const std::size_t next = (i + 1) % size;
    const double edge = length(minus(bends[next].at, bends[i].at));
    const double wanted = bends[i].tangent_mm + bends[next].tangent_mm;
    if (wanted <= edge) continue;
    share[i] = std::min(share[i], edge / wanted);
    share[next] = std::min(share[next], edge / wanted);
  }
  for (std::size_t i = 0; i < size; ++i) bends[i].tangent_mm *= share[i];
}

RoundedCorner draw_bend(const Bend& bend, double tolerance_mm, Ring& ring) {
  if (bend.tangent_mm <= same_corner_mm) {
    ring.push_back(bend.at);
    return {bend.index, bend.at, 0.0, deg_of_rad(bend.turn_rad)};
  }
  const double radius = bend.tangent_mm / std::tan(0.5 * std::abs(bend.turn_rad));
  const double side = bend.turn_rad > 0.0 ? 1.0 : -1.0;
  const Point start = along(bend.at, bend.into, -bend.tangent_mm);
  const Point normal{-bend.into.y_mm * side, bend.into.x_mm * side};
  const Point centre = along(start, normal, radius);
  const int chords = static_cast<int>(std::ceil(std::abs(bend.turn_rad) / chord_rad(radius, tolerance_mm)));
  const auto on_arc =
      [&](double turned_rad) {  // the normal, turned with the edge, points from the arc to its centre
        const double c = std::cos(turned_rad);
        const double s = std::sin(turned_rad);
        return along(centre, {c * normal.x_mm - s * normal.y_mm, s * normal.x_mm + c * normal.y_mm}, -radius);
      };
  for (int i = 0; i <= chords; ++i) ring.push_back(on_arc(bend.turn_rad * i / chords));
  return {bend.index, on_arc(0.5 * bend.turn_rad), radius, deg_of_rad(bend.turn_rad)};
}

}  // namespace

RoundedRing round_corners(const std::vector<Corner>& corners, double tolerance_mm) {
  std::vector<Bend> bends = bends_of(corners, true);
  RoundedRing made;
  if (bends.size() < 3) {  // no area; the shape's own check says so
    for (const Bend& bend : bends) made.ring.push_back(bend.at);
    return made;
  }
  measure(bends);
  fit(bends);
  for (const Bend& bend : bends) made.corners.push_back(draw_bend(bend, tolerance_mm, made.ring));
  return made;
}

Path round_bends(const std::vector<Corner>& corners, double tolerance_mm) {
  std::vector<Bend> bends = bends_of(corners, false);
  Path path;
  if (bends.size() < 3) {  // nothing between the ends
    for (const Bend& bend : bends) path.push_back(bend.at);
    return path;
  }
  measure(bends);
  bends.front().tangent_mm = bends.back().tangent_mm = 0.0;
  fit(bends);
  for (const Bend& bend : bends) draw_bend(bend, tolerance_mm, path);
  return path;
}

Ring ellipse_ring(const Point& centre, double rx_mm, double ry_mm, double tolerance_mm) {
  // Stretching the circle of the larger half axis only brings chords nearer to their arcs.
  const double step = chord_rad(std::max(rx_mm, ry_mm), tolerance_mm);
  // Far more than a drawing may have: such an ellipse is refused by its size.
  constexpr double most_steps = 300'000.0;
  const int steps = static_cast<int>(std::min(std::ceil(2.0 * std::numbers::pi / step), most_steps));
  Ring ring;
  for (int i = 0; i < steps; ++i) {
    const double angle = 2.0 * std::numbers::pi * i / steps;
    ring.push_back({centre.x_mm + rx_mm * std::cos(angle), centre.y_mm + ry_mm * std::sin(angle)});
  }
  return ring;
}

}  // namespace warmsheet::outline
