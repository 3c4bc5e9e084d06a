// SPDX-License-Identifier: MIT
// Normal, Poisson and Student's probabilities: the one place where the distributions of Boost.Math are seen.
#pragma once

namespace warmsheet::stock {

/// Density of the standard normal law.
double normal_density(double z);
/// P(Z > z), from the complementary error function: keeps its digits where 1 - P(Z <= z) has none left.
double normal_above(double z);
/// z with P(Z <= z) = p. \pre 0 < p < 1
double normal_quantile(double p);

/// P(D = k) for a Poisson law. \pre mean > 0, k >= 0
double poisson_probability(double mean, int k);
/// P(D > k). \pre mean > 0, k >= 0
double poisson_above(double mean, int k);

/// t with P(T <= t) = p for Student's law. \pre freedom > 0, 0 < p < 1
double student_quantile(double freedom, double p);

}  // namespace warmsheet::stock
