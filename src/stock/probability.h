// SPDX-License-Identifier: MIT
// Quantiles of the normal and Student's laws: the one place where the distributions of Boost.Math are seen.
#pragma once

namespace warmsheet::stock {

/// z with P(Z <= z) = p. \pre 0 < p < 1
double normal_quantile(double p);

/// t with P(T <= t) = p for Student's law. \pre freedom > 0, 0 < p < 1
double student_quantile(double freedom, double p);

}  // namespace warmsheet::stock
