// SPDX-License-Identifier: MIT
// A flat shape in millimetres: one outer ring, any holes. Once made it is valid: rings simple, outer ring
// counter-clockwise, holes clockwise, inside the outer ring and apart from each other.
#pragma once

#include <string>
#include <vector>

#include "base/problem.h"

namespace warmsheet::outline {

struct Point {
  double x_mm = 0.0;
  double y_mm = 0.0;
  friend bool operator==(const Point&, const Point&) = default;
};

/// Vertices in order, the first one not repeated.
using Ring = std::vector<Point>;
/// Points of a line with two ends; the last is the first again if it closes.
using Path = std::vector<Point>;

struct Box {
  Point low;
  Point high;
  [[nodiscard]] double width_mm() const { return high.x_mm - low.x_mm; }
  [[nodiscard]] double height_mm() const { return high.y_mm - low.y_mm; }
};

/// Largest number of vertices accepted in one shape; more is refused before any geometry is done.
inline constexpr std::size_t largest_vertex_count = 200'000;

class Polygon {
 public:
  /// Orients the rings and drops repeated vertices. Throws a Failure (data) with the reason and the
  /// coordinates: fewer than three corners, no area, self-crossing, hole outside or touching, coordinates
  /// beyond 10 m.
  static Polygon make(Ring outer, std::vector<Ring> holes, const Place& place);

  [[nodiscard]] const Ring& outer() const { return outer_; }
  [[nodiscard]] const std::vector<Ring>& holes() const { return holes_; }
  /// Without the holes, mm2.
  [[nodiscard]] double area_mm2() const { return area_mm2_; }
  [[nodiscard]] const Box& box() const { return box_; }
  /// Of all rings, mm: the length of edge to cut and finish.
  [[nodiscard]] double perimeter_mm() const;
  [[nodiscard]] Point centroid() const;

  /// Mirrored left to right (x -> -x).
  [[nodiscard]] Polygon mirrored() const;
  /// Turned counter-clockwise about the origin, then moved.
  [[nodiscard]] Polygon placed(double angle_deg, Point move) const;

 private:
  Polygon() = default;
  /// Orients the rings and takes their area and box.
  void settle();
  Ring outer_;
  std::vector<Ring> holes_;
  double area_mm2_ = 0.0;
  Box box_;
};

/// Signed area of a ring, mm2; positive if counter-clockwise. Shoelace formula.
double signed_area_mm2(const Ring& ring);
/// Of the closed ring, mm.
double ring_length_mm(const Ring& ring);
/// From the first to the last point, mm.
double path_length_mm(const Path& path);
/// True if the point lies inside the ring (crossing rule); one on the edge may count as either.
bool ring_holds(const Ring& ring, const Point& p);
/// \pre at least one vertex
Box box_of(const Ring& ring);

}  // namespace warmsheet::outline
