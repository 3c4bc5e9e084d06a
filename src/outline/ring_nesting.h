// SPDX-License-Identifier: MIT
// From loose closed lines to one outline with holes.
#pragma once

#include <vector>

#include "outline/pen.h"

namespace warmsheet::outline {

/// A closed line and where it was drawn.
struct PlacedRing {
  Ring ring;
  Place place;
  std::string name;  ///< for messages, e.g. "path 'p1'"
};

/// Most rings one file may draw.
inline constexpr std::size_t largest_ring_count = 1000;

/// Which ring is the outline and which are its holes follows from nesting alone: the ring that lies in no
/// other is the outline, rings directly inside it are holes. Throws a Failure (data) with the place: no ring,
/// two rings outside each other, a ring inside a hole, and everything `Polygon::make` refuses.
Polygon nest_rings(const std::vector<PlacedRing>& rings, const Place& file);

}  // namespace warmsheet::outline
