// SPDX-License-Identifier: MIT
// Laws of a whole number of things (sheets, orthoses, sixteenths of a sheet) as lists of probabilities, and
// the exact ways to combine them: sums, compound sums, thinning. No sampling, so no seed and no sampling
// error.
#pragma once

#include <vector>

namespace warmsheet::stock {

/// P(D = 0), P(D = 1), ...; the probabilities add up to 1 within rounding.
class Law {
 public:
  /// \pre not empty, no probability below 0. Scaled to add up to 1.
  explicit Law(std::vector<double> probabilities);

  /// Always `k`.
  static Law exactly(int k);
  /// Cut off where less than 1e-16 is left above. \pre mean >= 0
  static Law poisson(double mean);
  /// Each month of a history equally likely. \pre not empty, no count below 0
  static Law of_history(const std::vector<int>& counts);

  [[nodiscard]] const std::vector<double>& probabilities() const { return probability_; }
  [[nodiscard]] int largest() const { return static_cast<int>(probability_.size()) - 1; }
  /// P(D = k); 0 outside.
  [[nodiscard]] double probability(int k) const;
  /// P(D <= k)
  [[nodiscard]] double at_most(int k) const;
  [[nodiscard]] double mean() const;
  [[nodiscard]] double variance() const;
  /// Smallest k with P(D <= k) >= p. \pre 0 < p <= 1
  [[nodiscard]] int quantile(double p) const;
  /// E[(D - k)+]: expected shortfall of a stock of k. Summed over the upper tail, all terms positive.
  [[nodiscard]] double shortfall(int k) const;
  /// E[(k - D)+]: expected rest of a stock of k. \pre k >= 0
  [[nodiscard]] double leftover(int k) const;

 private:
  std::vector<double> probability_;
};

/// Law of the sum of two independent numbers.
Law sum(const Law& a, const Law& b);
/// Law of the sum of n independent numbers of the same law. n = 0 gives exactly 0.
Law sum_of(const Law& law, int n);
/// Each of the D things is kept with this chance, independently: a month's demand that falls in a part of it.
Law thinned(const Law& law, double kept_share);
/// Each number times a factor; what lies between two whole numbers is either, with the mean of it.
Law scaled(const Law& law, double factor);
/// One of two laws, the second with this chance.
Law mixed(const Law& first, const Law& second, double second_share);
/// Demand over a time of `months`, of which a month has the law `month` and months are independent: whole
/// months by convolution, the broken one by thinning.
Law over_months(const Law& month, double months);

/// Sum of N sizes, N of any law, by nested convolution (Horner's scheme on the generating function).
Law compound(const Law& count, const Law& size);
/// Sum of N sizes, N Poisson: Panjer's recursion (Panjer 1981, ASTIN Bulletin 12:22-26). \pre rate >= 0
Law compound_poisson(double rate, const Law& size);

}  // namespace warmsheet::stock
