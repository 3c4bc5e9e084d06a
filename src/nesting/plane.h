// SPDX-License-Identifier: MIT
// Plain plane geometry of the search: vectors, turns, boxes, loops. Millimetres, unvalidated, inlined.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace warmsheet::nesting {

struct Vec {
  double x = 0.0;
  double y = 0.0;
  friend constexpr bool operator==(const Vec&, const Vec&) = default;
};

constexpr Vec operator+(Vec a, Vec b) {
  return {a.x + b.x, a.y + b.y};
}
constexpr Vec operator-(Vec a, Vec b) {
  return {a.x - b.x, a.y - b.y};
}
constexpr Vec operator-(Vec a) {
  return {-a.x, -a.y};
}
constexpr Vec operator*(double k, Vec a) {
  return {k * a.x, k * a.y};
}
constexpr double dot(Vec a, Vec b) {
  return a.x * b.x + a.y * b.y;
}
constexpr double cross(Vec a, Vec b) {
  return a.x * b.y - a.y * b.x;
}
inline double length(Vec a) {
  return std::sqrt(dot(a, a));
}

/// A turn counter-clockwise about the origin.
struct Turn {
  double cos = 1.0;
  double sin = 0.0;
  constexpr Vec operator()(Vec v) const { return {cos * v.x - sin * v.y, sin * v.x + cos * v.y}; }
  constexpr Vec back(Vec v) const { return {cos * v.x + sin * v.y, cos * v.y - sin * v.x}; }
};

/// Exact at multiples of 90 degrees, where pieces must tile without rounding.
Turn turn_by(double angle_deg);

/// An axis-parallel box; starts empty.
struct Extent {
  double x0 = std::numeric_limits<double>::infinity();
  double y0 = std::numeric_limits<double>::infinity();
  double x1 = -std::numeric_limits<double>::infinity();
  double y1 = -std::numeric_limits<double>::infinity();
  constexpr void take(Vec p) {
    x0 = std::min(x0, p.x);
    y0 = std::min(y0, p.y);
    x1 = std::max(x1, p.x);
    y1 = std::max(y1, p.y);
  }
  [[nodiscard]] constexpr double width() const { return x1 - x0; }
  [[nodiscard]] constexpr double height() const { return y1 - y0; }
  [[nodiscard]] constexpr Vec centre() const { return {0.5 * (x0 + x1), 0.5 * (y0 + y1)}; }
};

using Loop = std::vector<Vec>;

Extent extent_of(const Loop& loop);
Loop turned(const Loop& loop, Turn turn);

/// Shoelace formula; positive if counter-clockwise.
double signed_area(const Loop& loop);

/// Counter-clockwise, without collinear points. Andrew's monotone chain.
Loop convex_hull(Loop points);

/// Largest distance between two points of a convex loop.
double diameter_of(const Loop& hull);

/// Outer loop counter-clockwise, holes clockwise.
struct Region {
  Loop outer;
  std::vector<Loop> holes;
};

}  // namespace warmsheet::nesting
