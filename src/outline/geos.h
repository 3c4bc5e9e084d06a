// SPDX-License-Identifier: MIT
// Robust plane geometry for this room and the rooms above it: validity, offsets, booleans, distances. The one
// door to the geometry library behind it (GEOS, C interface); each thread has its own handle, so all of it
// may run in parallel.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "outline/polygon.h"

namespace warmsheet::outline::geos {

/// Why rings do not bound one area, and where.
struct Flaw {
  std::string reason;  ///< in words for a reader, e.g. "the edge crosses itself"
  Point at;
};

/// The first flaw of one outer ring and its holes, or none. Rings may run either way round.
/// Besides the usual rules, rings that touch each other in a point are a flaw: no cut can follow them.
/// \pre every ring has at least three vertices, all coordinates are finite
std::optional<Flaw> find_flaw(const Ring& outer, const std::vector<Ring>& holes);

/// One connected part of a result. Like a Polygon, but rings may touch in points.
struct Piece {
  Ring outer;               ///< counter-clockwise
  std::vector<Ring> holes;  ///< clockwise
  [[nodiscard]] double area_mm2() const;
};

/// All points within `distance_mm` of the shape; a negative distance shrinks it. Round corners, each quarter
/// turn in `quarter_steps` chords, which lie inside the true curve.
std::vector<Piece> offset(const Polygon& shape, double distance_mm, int quarter_steps = 16);
std::vector<Piece> unite(const std::vector<Polygon>& shapes);
std::vector<Piece> subtract(const Polygon& from, const Polygon& what);
std::vector<Piece> intersect(const Polygon& a, const Polygon& b);

/// The parts of a line that lie on the shape, in its order.
std::vector<Path> parts_on(const Polygon& shape, const Path& line);

/// Area common to both, mm2.
double overlap_mm2(const Polygon& a, const Polygon& b);
/// True if no point of `inner` lies outside `outer`; they may share edges.
bool contains(const Polygon& outer, const Polygon& inner);
/// Least distance between the two areas, mm; 0 if they touch or overlap.
double distance_mm(const Polygon& a, const Polygon& b);
/// Least distance between two closed lines, mm; 0 if they touch or cross.
double distance_mm(const Ring& a, const Ring& b);

}  // namespace warmsheet::outline::geos
