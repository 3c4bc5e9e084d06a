// SPDX-License-Identifier: MIT
// An order as straight knife cuts: a rectangle round each outline, cut from the sheets by guillotine cuts.
#pragma once

#include <string>
#include <vector>

#include "nesting/guillotine.h"
#include "nesting/nest.h"

namespace warmsheet::nesting {

/// The smallest rectangle round an outline among its allowed rotations; with `free`, edges of its hull are
/// tried.
struct BlankSize {
  double width_mm = 0.0;
  double height_mm = 0.0;
  double angle_deg = 0.0;  ///< of the outline in it
};
BlankSize blank_of(const Piece& piece);

struct BlankSheet {
  std::size_t stock = 0;  ///< index in Order::stock
  CutTree tree;           ///< from the sheet's corner, inside the margin; blanks are pieces of the order
  double used_length_mm =
      0.0;  ///< from the sheet's edge to the last cut that bounds a blank, plus the margin
};

/// One straight cut, in the order in which a person makes them: each goes right through the part it divides.
struct KnifeCut {
  std::size_t sheet = 0;
  outline::Point from;
  outline::Point to;
};

struct BlankPlan {
  std::vector<BlankSheet> sheets;
  std::vector<Unplaced> unplaced;
  double blank_area_mm2 = 0.0;  ///< of the blanks placed
  bool proven = false;          ///< no guillotine plan is cheaper, nor as cheap with a shorter last sheet
};

/// Cuts a blank for every copy of the order, fewest (then cheapest) sheets, then the shortest last one. Kept
/// offcuts are used if they are rectangles; spoilt stock is not. A blank may be turned by 90 degrees if its
/// piece may be turned by 90 or 270 degrees. \param kerf_mm what a cut takes away Throws a Failure (data) as
/// `nest` does.
BlankPlan cut_blanks(const Order& order, double kerf_mm);

/// Whether a slab is cut in two; a cut along its very edge is none.
bool is_cut(const CutTree& tree, const Slab& slab);

/// Those of all sheets, in the order of their trees.
std::vector<KnifeCut> knife_cuts(const Order& order, const BlankPlan& plan);

}  // namespace warmsheet::nesting
