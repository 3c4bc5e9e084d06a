// SPDX-License-Identifier: MIT
// Proven lower bounds on the number of sheets, whatever the search finds.
#pragma once

#include "nesting/nest.h"
#include "nesting/plane.h"

namespace warmsheet::nesting {

/// No layout of the pieces placed needs fewer sheets besides the kept offcuts, even if all sheets were of the
/// largest size offered. The largest of three bounds: area; pieces of which no two fit on a sheet (their
/// inscribed circles); and pieces that can only lie in one row (inscribed rectangles more than half as high
/// as the sheet) by length.
int sheets_bound(const Order& order, const Layout& layout);

/// Width of a rectangle at least `height` high inside the region, sides parallel to the axes: found on a grid
/// of columns, so not always the widest, but always inside. 0 if none is found.
double inscribed_width(const Region& region, double height);

/// Fewest bins of the capacity that hold items of these sizes: Martello and Toth's bound L2 (1990, chapter
/// 8).
int one_dimensional_bound(std::vector<double> sizes, double capacity);

}  // namespace warmsheet::nesting
