// SPDX-License-Identifier: MIT
// Proven lower bounds on the number of sheets, whatever the search finds.
#pragma once

#include "nesting/nest.h"
#include "nesting/plane.h"
#include "nesting/world.h"

namespace warmsheet::nesting {

/// The area that a piece takes from the others: its own, and half the gap round it. Never too much.
double claimed_mm2(const outline::Polygon& shape, double spacing_mm);
/// What such areas can add up to on a sheet. Never too little.
double capacity_mm2(const outline::Polygon& sheet, double spacing_mm, double margin_mm);

/// Length of a bin that such areas need on it. Never too much.
double length_for(double claims_mm2, const Bin& bin, double spacing_mm);

/// No layout of the pieces placed needs fewer sheets besides the kept offcuts, even if all sheets were of the
/// largest size offered. The largest of three bounds: area, with the gaps; pieces of which no two fit on a
/// sheet (their inscribed circles); and pieces that can only lie in one row (inscribed rectangles more than
/// half as high as the sheet) by length.
int sheets_bound(const Order& order, const Layout& layout);

/// Width of a rectangle at least `height` high inside the region, sides parallel to the axes: found on a grid
/// of columns, so not always the widest, but always inside. 0 if none is found.
double inscribed_width(const Region& region, double height);

/// Fewest bins of the capacity that hold items of these sizes: Martello and Toth's bound L2 (1990, chapter
/// 8).
int one_dimensional_bound(std::vector<double> sizes, double capacity);

}  // namespace warmsheet::nesting
