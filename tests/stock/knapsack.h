// SPDX-License-Identifier: MIT
// The best pattern of one dimension, for tests of patterns.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <utility>
#include <vector>

#include "stock/patterns.h"

namespace warmsheet::testing {

using stock::Pattern;

/// One dimension: which widths on one roll are worth most. Depth first over the densest widths, bounded by
/// density.
class Knapsack {
 public:
  Knapsack(double roll, std::vector<double> widths) : roll_(roll), widths_(std::move(widths)) {}

  Pattern operator()(const std::vector<double>& worth, const std::vector<int>& most) const {
    std::vector<std::size_t> order(widths_.size());
    std::iota(order.begin(), order.end(), 0);
    std::sort(order.begin(), order.end(),
              [&](auto a, auto b) { return worth[a] * widths_[b] > worth[b] * widths_[a]; });
    Pattern pattern(widths_.size(), 0);
    Pattern best = pattern;
    double best_value = 0.0;
    search(order, 0, roll_, 0.0, worth, most, pattern, best, best_value);
    return best;
  }

 private:
  void search(const std::vector<std::size_t>& order, std::size_t at, double left, double value,
              const std::vector<double>& worth, const std::vector<int>& most, Pattern& pattern, Pattern& best,
              double& best_value) const {
    if (value > best_value + 1e-12) best_value = value, best = pattern;
    if (at == order.size()) return;
    const std::size_t i = order[at];
    if (value + worth[i] / widths_[i] * left <= best_value + 1e-12) return;
    const int fit = std::min(most[i], static_cast<int>(std::floor(left / widths_[i] + 1e-9)));
    for (int n = fit; n >= 0; --n) {
      pattern[i] = n;
      search(order, at + 1, left - n * widths_[i], value + n * worth[i], worth, most, pattern, best,
             best_value);
    }
    pattern[i] = 0;
  }

  double roll_;
  std::vector<double> widths_;
};

}  // namespace warmsheet::testing
