// SPDX-License-Identifier: MIT
// Straps and edging by the roll. Nothing is lost to shapes here, so the law of the metres needed is worked
// out as a compound sum: orthoses in the time to cover, each with its length, and again where it is made
// again within that time. Exact for a mean; with a history the months are taken to begin with the time. A
// season counts by its mean over the time, growth not at all.
#pragma once

#include <vector>

#include "stock/caseload.h"
#include "stock/law.h"
#include "stock/lot.h"
#include "stock/pieces.h"
#include "stock/shelf.h"
#include "stock/summary.h"

namespace warmsheet::stock {

/// Lengths are counted in steps of this, each strap rounded up: what is cut is never shorter than needed.
inline constexpr double roll_step_m = 0.02;

struct RollStudy {
  bool used = false;  ///< some kind needs it
  Summary metres;     ///< a month
  double cover_mean_m = 0.0;
  double reorder_m = 0.0;  ///< order when there is this much or less
  Lot lot{};               ///< rolls in one order
  double order_up_to_m = 0.0;
  double cycle_service = 0.0;  ///< exact, at that reorder point
  double fill_rate = 0.0;
  int to_order = 0;   ///< rolls, today
  double cost = 0.0;  ///< a month: goods, orders, holding
};

/// \pre `kinds` as in the caseload
RollStudy study_roll(const Caseload& caseload, const Roll& roll, const std::vector<KindPieces>& kinds);

}  // namespace warmsheet::stock
