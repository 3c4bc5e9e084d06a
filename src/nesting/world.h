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
  double claim = 0.0;  ///< area with half the gap round it, never too much
  double hull_area = 0.0;
  double diameter = 0.0;
  double narrow = 0.0;  ///< smaller side of the box in its first stance: the measure for steps of the search
  double least_width = 0.0;  ///< along x, of all turns it may take
  /// What has more of it is laid first.
  [[nodiscard]] double bulk() const { return hull_area * diameter; }
};

/// Where something lies.
struct Spot {
  std::size_t stance = 0;
  std::size_t bin = 0;
  Vec at;                 ///< of the form's centre
  double tilt_deg = 0.0;  ///< added to the stance's angle, for pieces that may be turned freely
};

/// Of the true outline there.
Extent box_of(const Shapes& shapes, const Spot& spot);

/// A rectangle that pieces are placed in, its lower left corner at the origin; what is not sheet is anchored
/// there.
struct Bin {
  double length_mm = 0.0;
  double height_mm = 0.0;
  double margin_mm = 0.0;  ///< true outlines stay this far inside the rectangle
};

/// Where a stance may lie in a bin. Empty if it does not fit.
struct Room {
  Vec low;
  Vec high;
  [[nodiscard]] bool empty() const { return low.x > high.x || low.y > high.y; }
  [[nodiscard]] Vec clamped(Vec p) const {
    return {std::clamp(p.x, low.x, high.x), std::clamp(p.y, low.y, high.y)};
  }
};

/// \param box of the outline about its centre
Room room_in(const Bin& bin, const Extent& box);

struct World {
  const Shapes* shapes = nullptr;
  const std::vector<Kind>* kinds = nullptr;
  std::vector<std::size_t> items;  ///< kind of each item
  std::vector<char> stays;         ///< whether an item must not leave its bin alone; empty: none
  /// What lies on a bin and stays there: the outside of a sheet, a spoilt zone, a fixed piece.
  std::vector<Spot> anchors;
};

}  // namespace warmsheet::nesting
