// SPDX-License-Identifier: MIT
// From ranges of inputs to ranges of results: Latin hypercube draws, quantiles, and which input widens a
// result most.
//
// An input with value v in [low, high] is drawn below v as often as above it, evenly on each side, so that
// the median of a result that only rises or only falls with it is its central value. Draws depend on the seed
// alone: every input has its own stream, samples are worked out in any order by any number of threads and
// read back by their number. References: McKay, Beckman & Conover, Technometrics 21 (1979) 239; Saltelli et
// al., Global Sensitivity Analysis (2008), 1.2.
#pragma once

#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "base/figure.h"

namespace warmsheet::heat {

/// Positions in (0, 1), one row a sample, one column an input; 0.5 is the central value.
class Hypercube {
 public:
  /// \pre samples > 0
  Hypercube(std::size_t samples, const std::vector<std::string>& inputs, std::uint64_t seed);
  [[nodiscard]] std::size_t samples() const { return samples_; }
  [[nodiscard]] std::size_t inputs() const { return columns_.size(); }
  [[nodiscard]] double at(std::size_t sample, std::size_t input) const { return columns_[input][sample]; }
  [[nodiscard]] std::span<const double> column(std::size_t input) const { return columns_[input]; }

 private:
  std::size_t samples_;
  std::vector<std::vector<double>> columns_;
};

/// The value at a position: from low over the central value (0.5) to high.
double value_at(const Range& range, double position);

/// Linear between order statistics (Hyndman & Fan 1996, type 7). \pre values is not empty
double quantile(std::vector<double> values, double share);

/// The smallest of the values that is, with 95 % confidence, not below the quantile of all that could be
/// drawn: of two hundred sets of draws ten at most fall short of it, where the draws' own quantile does in a
/// hundred (Wilks, Annals of Mathematical Statistics 12 (1941) 91: an order statistic, by the binomial law,
/// whatever law the values have; it
/// supposes independent draws, and those of a hypercube scatter less). The largest, if there are too few.
/// \pre values is not empty
double surely_enough_for(std::vector<double> values, double share);

inline constexpr double low_quantile = 0.05;
inline constexpr double high_quantile = 0.95;

/// The central value with the 5 % and 95 % bounds of the draws, widened to hold it.
Range spread(const std::vector<double>& values, double central);

/// Share of a result's variance that goes with each input alone (squared standardised slope of a
/// straight-line model).
std::vector<double> first_order_shares(const std::vector<double>& values, const Hypercube& cube);

}  // namespace warmsheet::heat
