// SPDX-License-Identifier: MIT
#include "nesting/bounds.h"

namespace warmsheet::nesting {

int sheets_bound(const Task& task, const std::vector<std::size_t>& copies) {
  constexpr double rounding = 1e-9;  // an order that fills its sheets exactly needs no further one
  double needed = 0.0;
  for (const std::size_t copy : copies) needed += task.kinds[task.copies[copy].piece].area;
  double largest = 0.0;
  for (const StockPlan& stock : task.stock) {
    const double usable =
        std::min(stock.area, std::max(0.0, stock.bin.length_mm - 2.0 * stock.bin.margin_mm) *
                                 std::max(0.0, stock.bin.height_mm - 2.0 * stock.bin.margin_mm));
    if (stock.cost > 0.0) {
      largest = std::max(largest, usable);
    } else {
      needed -= usable * stock.available;
    }
  }
  if (needed <= 0.0 || largest <= 0.0) return 0;
  return static_cast<int>(std::ceil(needed / largest - rounding));
}

}  // namespace warmsheet::nesting
