// SPDX-License-Identifier: MIT
// What does not change during one search: what is to be placed, and on what.
#pragma once

#include <vector>

#include "nesting/shapes.h"

namespace warmsheet::nesting {

/// Shapes that are alike share a kind.
struct Kind {
  std::vector<std::size_t> stances;
  bool free = false;  ///< may be tilted off its stances
  double area = 0.0;
  double hull_area = 0.0;
  double diameter = 0.0;
  double narrow = 0.0;  ///< smaller side of the box in its first stance: the measure for steps of the search
};

/// Something that lies on one bin and stays there: the outside of a sheet, a spoilt zone, a fixed piece.
struct Anchor {
  std::size_t stance;
  std::size_t bin;
  Vec at;
  double tilt_deg = 0.0;
};

/// A rectangle that pieces are placed in, its lower left corner at the origin; what is not sheet is anchored
/// there.
struct Bin {
  double length_mm = 0.0;
  double height_mm = 0.0;
  double margin_mm = 0.0;  ///< true outlines stay this far inside the rectangle
};

struct World {
  const Shapes* shapes = nullptr;
  const std::vector<Kind>* kinds = nullptr;
  std::vector<std::size_t> items;  ///< kind of each item
  std::vector<char> stays;         ///< whether an item must not leave its bin alone; empty: none
  std::vector<Anchor> anchors;
};

}  // namespace warmsheet::nesting
