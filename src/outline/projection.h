// SPDX-License-Identifier: MIT
// The projective map between a flat sheet and a picture of it, and whether four corners in a picture can be
// those of a rectangle of known sides at all.
#pragma once

#include <array>

#include "outline/polygon.h"

namespace warmsheet::outline {

using Corners = std::array<Point, 4>;

/// From the sheet to the picture: x = (h0 u + h1 v + h2) / (h6 u + h7 v + 1), y likewise with h3 to h5.
using Homography = std::array<double, 8>;

/// The map that takes four points to four others, no three of either on one line.
Homography homography(const Corners& from, const Corners& to);
Point projected(const Homography& map, const Point& p);

/// Corners of a sheet with one corner at the origin, counter-clockwise; the first side lies along x.
Corners sheet_rectangle(double along_mm, double up_mm);

/// How a camera would have to stand to see a rectangle at four corners.
struct View {
  /// What no camera explains: the larger of the share by which the sides are out of proportion and the cosine
  /// of the angle between them.
  double misfit;
  double tilt_rad;  ///< from straight above
};

/// \param seen  corners in pixels from the middle of the picture, over its longer side; the first side is
///              `along_mm` long
View view_of(const Corners& seen, double along_mm, double up_mm);

}  // namespace warmsheet::outline
