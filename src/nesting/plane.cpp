// SPDX-License-Identifier: MIT
#include "nesting/plane.h"

#include "base/dimension.h"

namespace warmsheet::nesting {

Turn turn_by(double angle_deg) {
  double angle = std::fmod(angle_deg, 360.0);
  if (angle < 0.0) angle += 360.0;
  if (angle == 0.0 || angle == 360.0) return {1.0, 0.0};
  if (angle == 90.0) return {0.0, 1.0};
  if (angle == 180.0) return {-1.0, 0.0};
  if (angle == 270.0) return {0.0, -1.0};
  const double radians = rad_of_deg(angle);
  return {std::cos(radians), std::sin(radians)};
}

Extent extent_of(const Loop& loop) {
  Extent extent;
  for (const Vec p : loop) extent.take(p);
  return extent;
}

Loop turned(const Loop& loop, Turn turn) {
  Loop made;
  for (const Vec p : loop) made.push_back(turn(p));
  return made;
}

double signed_area(const Loop& loop) {
  if (loop.empty()) return 0.0;
  double twice = 0.0;
  const Vec origin = loop.front();  // near the loop, so that large coordinates do not eat the digits
  for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
    twice += cross(loop[j] - origin, loop[i] - origin);
  }
  return 0.5 * twice;
}

Loop convex_hull(Loop points) {
  std::sort(points.begin(), points.end(),
            [](Vec a, Vec b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 3) return points;
  Loop hull;
  const auto extend = [&hull](Vec p, std::size_t keep) {
    while (hull.size() > keep && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0.0)
      hull.pop_back();
    hull.push_back(p);
  };
  for (const Vec p : points) extend(p, 1);
  const std::size_t lower = hull.size();
  for (auto it = points.rbegin() + 1; it != points.rend(); ++it) extend(*it, lower);
  hull.pop_back();
  return hull;
}

double diameter_of(const Loop& hull) {
  double longest = 0.0;
  for (const Vec a : hull) {
    for (const Vec b : hull) longest = std::max(longest, dot(b - a, b - a));
  }
  return std::sqrt(longest);
}

}  // namespace warmsheet::nesting
