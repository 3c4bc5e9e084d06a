// SPDX-License-Identifier: MIT
// Corners of a pattern rounded by arcs, and the arcs as chords.
#pragma once

#include <vector>

#include "outline/polygon.h"

namespace warmsheet::outline {

/// A corner to round: where the straight edges would meet, and the radius wished for (0: left sharp).
struct Corner {
  Point at;
  double radius_mm = 0.0;
};

/// What became of a corner.
struct RoundedCorner {
  std::size_t index;  ///< in the list of corners
  Point at;           ///< middle of the arc, or the sharp corner itself
  double radius_mm;   ///< drawn; 0 if it stayed sharp
  double turn_deg;    ///< how far the edge turns there, positive to the left
};

struct RoundedRing {
  Ring ring;
  std::vector<RoundedCorner> corners;
};

/// Replaces each corner by an arc that touches both edges. Two arcs never share more than their edge: where
/// the wishes do not fit, both radii shrink in proportion, so one pattern serves small and large hands and a
/// very large wish means "as round as the edges allow". Corners that fall together become one. Chords lie
/// within `tolerance_mm` of the arc.
RoundedRing round_corners(const std::vector<Corner>& corners, double tolerance_mm);

/// The same for a line with two ends.
Path round_bends(const std::vector<Corner>& corners, double tolerance_mm);

/// An ellipse as chords within `tolerance_mm` of it, counter-clockwise; the vertices lie on it.
Ring ellipse_ring(const Point& centre, double rx_mm, double ry_mm, double tolerance_mm);

}  // namespace warmsheet::outline
