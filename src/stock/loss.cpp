// SPDX-License-Identifier: MIT
// L(z) = phi(z) - z Q(z), Q the upper tail. With Q from the complementary error function the difference loses
// only about z^2 of its digits; Q = 1 - Phi would lose all of them at z = 8. Above z = 5 the loss is phi(z)
// times a series-free form: Q(z) = phi(z) / (z + 1/(z + 2/(z + 3/(z + ...)))) (Abramowitz and Stegun 26.2.14,
// from memory), hence L = phi(z) c / (z + c) with c the fraction behind the first z.
#include "stock/loss.h"

#include <algorithm>
#include <cmath>

#include "stock/probability.h"

namespace warmsheet::stock {
namespace {

constexpr double far_tail_z = 5.0;
/// At z = 5 forty terms leave less than 1e-15.
constexpr int fraction_terms = 60;

double far_tail_loss(double z) {
  double c = 0.0;
  for (int k = fraction_terms; k >= 1; --k) c = k / (z + c);
  return normal_density(z) * c / (z + c);
}

}  // namespace

double standard_loss(double z) {
  if (z > far_tail_z) return far_tail_loss(z);
  return normal_density(z) - z * normal_above(z);
}

double inverse_standard_loss(double loss) {
  // L falls from -z to 0; Newton with L' = -Q from the left converges from below because L is convex.
  double z = std::min(-loss, 0.0);
  constexpr int most_steps = 200;
  for (int i = 0; i < most_steps; ++i) {
    const double step = (standard_loss(z) - loss) / normal_above(z);
    z += step;
    if (std::abs(step) < 1e-14 * std::max(1.0, std::abs(z))) break;
  }
  return z;
}

double shortfall(const NormalDemand& demand, double level) {
  return demand.sd * standard_loss((level - demand.mean) / demand.sd);
}

}  // namespace warmsheet::stock
