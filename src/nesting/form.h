// SPDX-License-Identifier: MIT
// A shape as the search sees it: simplified outward, cut into convex parts, with poles and a convex hull.
#pragma once

#include <vector>

#include "nesting/plane.h"
#include "nesting/poles.h"
#include "nesting/simplify.h"
#include "outline/polygon.h"

namespace warmsheet::nesting {

struct Form {
  std::vector<Loop> bare;   ///< convex parts of the shape
  std::vector<Loop> parts;  ///< the same grown by `growth`
  std::vector<Pole> bare_poles;
  std::vector<Pole> poles;  ///< of the grown shape
  Loop hull;                ///< of the true outline, not grown
  double lean_deg = 0.0;    ///< the outline was turned by this first, so that the grid of angles suits it
  Vec centre;               ///< of the leaning outline's box; all coordinates here are relative to it
  double area = 0.0;        ///< of the true outline, mm2
  double hull_area = 0.0;
  double diameter = 0.0;
};

Region region_of(const outline::Polygon& shape);

/// \param growth mm, all round: half the spacing for pieces, the margin for what lies outside a sheet
Form form_of(const Region& region, double growth, const Coarseness& coarseness);

/// The turn that makes a region narrowest along x: one of its hull's edges is then upright (Freeman, Shapira
/// 1975).
double narrowest_lean_deg(const Region& region);

Region turned(const Region& region, Turn turn);

/// A rectangle with sides along the axes, to the last digit.
bool is_rectangle(const outline::Polygon& shape);

/// The hull's box when turned about the form's centre.
Extent extent_turned(const Form& form, Turn turn);

}  // namespace warmsheet::nesting
