// SPDX-License-Identifier: MIT
// The same order as blanks: a rectangle round each outline, cut straight with knife and straight edge, beside
// the true-shape layout.
#pragma once

#include "nesting/blanks.h"
#include "plan/cutting.h"

namespace warmsheet::plan {

/// A blank and the outline in it, placed on its sheet.
struct LaidBlank {
  std::size_t sheet;  ///< index in BlankPlan::sheets
  std::size_t piece;
  int copy;  ///< from 0
  outline::Box box;
  outline::Polygon outline;
};

/// What one way of cutting leaves, over the sheets it opens: whole sheets, and of the last its used length.
struct Use {
  Figure sheets;        // count, kept offcuts not counted
  Finding used_length;  // m, on the last sheet
  Figure area;          // m2 of sheet and offcut cut into
  Figure waste;         // m2 of that which becomes no orthosis
  Figure waste_share;   // ratio
};

struct BlankCutting {
  nesting::BlankPlan plan;
  std::vector<nesting::KnifeCut> cuts;
  std::vector<LaidBlank> blanks;
  Figure kerf;
  std::vector<Figure> inputs;  ///< what the plan rests on, the kerf among them
  Use straight;
  Use true_shape;

  [[nodiscard]] bool complete() const { return plan.unplaced.empty(); }
};

/// \param kerf width that a cut takes away; 0 for a knife
BlankCutting cut_blanks(const Cutting& cutting, const Figure& kerf);

}  // namespace warmsheet::plan
