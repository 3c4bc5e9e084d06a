// SPDX-License-Identifier: MIT
#include "stock/summary.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "stock/probability.h"

namespace warmsheet::stock {
namespace {

double mean_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

/// Smallest value that at least this share of all does not exceed.
double quantile_of_sorted(const std::vector<double>& sorted, double share) {
  const double place = std::ceil(share * static_cast<double>(sorted.size())) - 1.0;
  return sorted[static_cast<std::size_t>(std::max(0.0, place))];
}

/// 95 % confidence interval of a mean of n values that lie off it by these squares in all.
double half_width(double squares, std::size_t count) {
  if (count < 2) return 0.0;
  constexpr double confidence = 0.95;
  const auto n = static_cast<double>(count);
  return student_quantile(n - 1.0, 0.5 * (1.0 + confidence)) * std::sqrt(squares / (n - 1.0) / n);
}

}  // namespace

Summary summarise(std::vector<double> values) {
  constexpr double low = 0.05;
  constexpr double high = 0.95;
  std::sort(values.begin(), values.end());
  const double mean = mean_of(values);
  // A thing that hardly ever happens has a mean above its 95 %; the range must hold the mean to be shown
  // beside it.
  return {mean, std::min(quantile_of_sorted(values, low), mean),
          std::max(quantile_of_sorted(values, high), mean)};
}

Estimate estimate(const std::vector<double>& independent) {
  const double mean = mean_of(independent);
  double squares = 0.0;
  for (const double value : independent) squares += (value - mean) * (value - mean);
  return {mean, half_width(squares, independent.size())};
}

std::optional<Estimate> estimate_of_ratio(const std::vector<double>& parts,
                                          const std::vector<double>& wholes) {
  const double whole = mean_of(wholes);
  if (whole <= 0.0) return std::nullopt;
  const double ratio = mean_of(parts) / whole;
  double squares = 0.0;
  for (std::size_t i = 0; i < parts.size(); ++i) squares += std::pow(parts[i] - ratio * wholes[i], 2);
  return Estimate{ratio, half_width(squares, parts.size()) / whole};
}

Range range_of(const Summary& summary, double factor) {
  return {factor * summary.mean, factor * summary.low, factor * summary.high};
}

Range range_of(const Estimate& estimate) {
  return {estimate.mean, estimate.low(), estimate.high()};
}

}  // namespace warmsheet::stock
