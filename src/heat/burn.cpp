// SPDX-License-Identifier: MIT
#include "heat/burn.h"

#include <cmath>
#include <utility>

namespace warmsheet::heat {
namespace {

double rate(const DamageLaw& law, double T) {
  return law.factor_per_s * std::exp(-law.activation_K / T);
}

// Rates this close are equal to the formula's own rounding.
constexpr double equal_logarithms = 1e-9;

/// Mean of an exponential between two of its values.
double logarithmic_mean(double a, double b) {
  const double ratio = std::log(b / a);
  return std::abs(ratio) < equal_logarithms ? 0.5 * (a + b) : (b - a) / ratio;
}

}  // namespace

double damage_rate_per_s(const DamageLaw& law, double basal_K) {
  return basal_K < law.threshold_K ? 0.0 : rate(law, basal_K);
}

double damage_over(const DamageLaw& law, double from_K, double to_K, double duration_s) {
  if (from_K > to_K) std::swap(from_K, to_K);
  if (to_K < law.threshold_K) return 0.0;
  double counted_s = duration_s;
  if (from_K < law.threshold_K) {
    counted_s *= (to_K - law.threshold_K) / (to_K - from_K);
    from_K = law.threshold_K;
  }
  return counted_s * logarithmic_mean(rate(law, from_K), rate(law, to_K));
}

}  // namespace warmsheet::heat
