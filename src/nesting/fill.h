// SPDX-License-Identifier: MIT
// A first sound layout: pieces from the largest to the smallest, each at the touching position that lies
// lowest in the first bin that takes it.
#pragma once

#include <optional>
#include <vector>

#include "nesting/crowd.h"
#include "nesting/task.h"

namespace warmsheet::nesting {

/// Bins in use and where the copies lie; copies that found no place have no spot.
struct Filling {
  std::vector<std::size_t> bin_stock;
  std::vector<std::optional<Spot>> spots;  ///< one for each copy of the task
};

/// \param stock_order stock to open, in this order, each as often as it is available
Filling fill(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& stock_order);

/// The lowest x, then y, at which a copy of the piece lies alone on the stock; nothing if no try found one.
std::optional<Spot> place_alone(const Task& task, const Shapes& shapes, std::size_t piece, std::size_t stock);

}  // namespace warmsheet::nesting
