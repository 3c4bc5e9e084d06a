// SPDX-License-Identifier: MIT
// Random moments of a Poisson process, and small helpers of the stock tests.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "nesting/random.h"
#include "outline/polygon.h"

namespace warmsheet::testing {

/// Moments with this mean a month, by exponential waiting times.
inline std::vector<double> poisson_moments(double per_month, int months, std::uint64_t seed) {
  nesting::Random random(seed);
  std::vector<double> moments;
  for (double t = -std::log1p(-random.unit()) / per_month; t < months;
       t -= std::log1p(-random.unit()) / per_month)
    moments.push_back(t);
  return moments;
}

/// Orthoses so large that each takes a whole sheet and leaves nothing to keep: sheets are then Poisson like
/// the orthoses. `item`: more keys of the item, its pack among them.
inline std::string one_sheet_each(const std::string& mean, const std::string& supply,
                                  const std::string& item = "pack = 1\n") {
  return "label = \"one sheet each\"\n[cutting]\nleast_side = \"300 mm\"\n[supply]\n" + supply +
         (supply.find("order_cost") == std::string::npos ? "order_cost = \"0 cr\"\n" : "") + R"(
[[item]]
stock = "elastic-clear/3.2-solid"
on_hand = 3
)" + item +
         R"([[kind]]
id = "large"
area = "1150 cm2"
shaped_like = "volar-wrist"
stock = "elastic-clear/3.2-solid"
per_month = ")" +
         mean + "\"\n";
}

inline outline::Polygon rectangle_shape(double length_mm, double width_mm) {
  return outline::Polygon::make({{0, 0}, {length_mm, 0}, {length_mm, width_mm}, {0, width_mm}}, {}, {});
}

}  // namespace warmsheet::testing
