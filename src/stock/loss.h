// SPDX-License-Identifier: MIT
// The loss function of a normal demand: how much of it, on average, a stock does not cover.
#pragma once

namespace warmsheet::stock {

/// L(z) = E[(Z - z)+] of the standard normal law. Good to about 1e-13 relative where the two-term form
/// phi(z) - z P(Z > z) still holds digits, and from its continued fraction beyond.
double standard_loss(double z);

/// z with L(z) = loss. \pre loss > 0
double inverse_standard_loss(double loss);

struct NormalDemand {
  double mean;
  double sd;  ///< above 0
};

/// E[(D - level)+]
double shortfall(const NormalDemand& demand, double level);

}  // namespace warmsheet::stock
