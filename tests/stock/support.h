// SPDX-License-Identifier: MIT
// Random moments of a Poisson process, and small helpers of the stock tests.
#pragma once

#include <cmath>
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

inline outline::Polygon rectangle_shape(double length_mm, double width_mm) {
  return outline::Polygon::make({{0, 0}, {length_mm, 0}, {length_mm, width_mm}, {0, width_mm}}, {}, {});
}

}  // namespace warmsheet::testing
