// SPDX-License-Identifier: MIT
// Outlines drawn as many short chords are given fewer corners before the search, only ever growing: notches
// are filled and corners extended where that costs least area. What is placed is the true outline; it fits
// wherever this fits.
#pragma once

#include <cstddef>

#include "nesting/plane.h"

namespace warmsheet::nesting {

struct Coarseness {
  double area_share = 0.001;       ///< of the region's area, the most that may be added
  std::size_t most_corners = 120;  ///< beyond this more area is given away, until the corners are few enough
};

/// A superset of the region, within its convex hull's extent, with loops that stay simple and apart; holes
/// may vanish.
Region simplified(const Region& region, const Coarseness& coarseness);

}  // namespace warmsheet::nesting
