// SPDX-License-Identifier: MIT
// The blanks an outline can be cut from: all smallest rectangles around it, over all ways to turn it.
#pragma once

#include <vector>

#include "outline/polygon.h"

namespace warmsheet::stock {

struct Rectangle {
  double length_mm;
  double width_mm;
  [[nodiscard]] double area_mm2() const { return length_mm * width_mm; }
};

/// Rectangles around the shape turned in steps of one degree, without those that another one fits inside;
/// sorted by length, so width falls. Both ways round are in the list. Turning the shape over gives the same
/// list.
std::vector<Rectangle> turned_boxes(const outline::Polygon& shape);

/// The one of least area.
Rectangle smallest_box(const std::vector<Rectangle>& boxes);

}  // namespace warmsheet::stock
