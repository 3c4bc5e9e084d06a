// SPDX-License-Identifier: MIT
// Loose lines and arcs joined end to end.
#pragma once

#include <vector>

#include "outline/ring_nesting.h"

namespace warmsheet::outline {

/// An open or closed line, where it was drawn, and its name for messages.
struct PlacedStroke {
  Stroke stroke;
  Place place;
  std::string name;
};

/// Joins open strokes whose ends lie within `reach_mm` of each other, in the order of the file; closed ones
/// pass through. Throws a Failure (data) with the place: an end that meets nothing, or one that meets several
/// others.
std::vector<PlacedRing> join_strokes(std::vector<PlacedStroke> strokes, double reach_mm);

}  // namespace warmsheet::outline
