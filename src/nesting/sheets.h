// SPDX-License-Identifier: MIT
// Several sheets at once: a first filling, then sheets dropped or exchanged for cheaper ones as long as the
// pieces can be driven apart on what is left, then the last sheet made as short as possible.
#pragma once

#include "nesting/fill.h"

namespace warmsheet::nesting {

struct SheetPlan {
  std::vector<BinUse> bins;
  std::vector<std::optional<Spot>> spots;  ///< one for each copy of the task
  bool stopped = false;
  double shortest_mm = 0.0;  ///< no plan with these bins has a shorter last one
};

/// \param start a plan to begin from if it is better than the first filling
SheetPlan plan_sheets(const Task& task, const Shapes& shapes, const Effort& effort,
                      const std::optional<SheetPlan>& start);

}  // namespace warmsheet::nesting
