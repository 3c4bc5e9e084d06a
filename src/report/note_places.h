// SPDX-License-Identifier: MIT
// Where words stand on a drawing: letters clear the lines under them, and a line to cut must not be cleared.
#pragma once

#include <vector>

#include "report/document.h"

namespace warmsheet::report {

/// Where the shape is crossed at a height, from left to right; its whole width if it is not.
std::vector<outline::Box> crossings(const outline::Polygon& shape, double y_mm);

/// Over the line that crosses the shape at `on`, where the words cover nothing else, or at least no edge to
/// cut; where the shape is too narrow for them, beyond the line's end, which juts out by `overhang_mm`.
void place_over_line(Drawing::Note& note, const Drawing& drawing, const outline::Polygon& shape,
                     const outline::Box& on, double overhang_mm);

/// Inside the shape, with letters as large as `largest_mm`; where the words have no room, their brief form.
void place_inside(Drawing::Note& note, const Drawing& drawing, const outline::Polygon& shape,
                  double largest_mm);

}  // namespace warmsheet::report
