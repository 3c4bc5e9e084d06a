// SPDX-License-Identifier: MIT
// A first sound layout: pieces from the largest to the smallest, each at the touching position that lies
// lowest in the first bin that takes it.
#pragma once

#include <optional>
#include <vector>

#include "nesting/filler.h"
#include "nesting/task.h"

namespace warmsheet::nesting {

/// Sheets in use and where the copies lie; copies that found no place have no spot.
struct Filling {
  std::vector<BinUse> bins;                ///< the pinned sheets first
  std::vector<std::optional<Spot>> spots;  ///< one for each copy of the task
};

/// \param stock_order stock to open, in this order, each as often as it is available
Filling fill(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& stock_order,
             Way way = Way::columns);

/// Places for these copies alone on one sheet of the stock: by touching positions, else by a short search.
std::optional<std::vector<Spot>> place_together(const Task& task, const Shapes& shapes,
                                                const std::vector<std::size_t>& copies, std::size_t stock);

}  // namespace warmsheet::nesting
