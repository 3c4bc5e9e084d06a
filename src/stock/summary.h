// SPDX-License-Identifier: MIT
// Many simulated values in a few numbers.
#pragma once

#include <optional>
#include <vector>

#include "base/figure.h"

namespace warmsheet::stock {

/// Mean of the values and where 90 % of them lie.
struct Summary {
  double mean = 0.0;
  double low = 0.0;   ///< 5 %
  double high = 0.0;  ///< 95 %
};
/// \pre not empty
Summary summarise(std::vector<double> values);

/// A mean and how far off it may be: 95 % confidence interval from independent values, Student's t.
struct Estimate {
  double mean = 0.0;
  double half_width = 0.0;  ///< 0 from a single value
  [[nodiscard]] double low() const { return mean - half_width; }
  [[nodiscard]] double high() const { return mean + half_width; }
};

/// Mean with where 90 % lie, `factor` times.
Range range_of(const Summary& summary, double factor = 1.0);
/// Mean with its confidence interval.
Range range_of(const Estimate& estimate);
/// \pre not empty
Estimate estimate(const std::vector<double>& independent);
/// Sum of the parts over the sum of the wholes, pairs independent of each other: the ratio estimator and its
/// variance (Cochran, Sampling Techniques, chapter 6; from memory). Absent if the wholes add up to nothing.
std::optional<Estimate> estimate_of_ratio(const std::vector<double>& parts,
                                          const std::vector<double>& wholes);

}  // namespace warmsheet::stock
