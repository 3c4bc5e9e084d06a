// SPDX-License-Identifier: MIT
// Closed solutions of heat conduction, written out from the books named at each; none of the program's own
// code.
#pragma once

#include <cmath>
#include <functional>
#include <numbers>

namespace warmsheet::heat_tests {

/// Root of a function that changes sign once in the bracket.
inline double bisect(const std::function<double(double)>& f, double low, double high) {
  const bool rising = f(high) > 0.0;
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    ((f(middle) > 0.0) == rising ? high : low) = middle;
  }
  return 0.5 * (low + high);
}

/// n-th root (from 0) of z tan z = Bi: Carslaw & Jaeger, Conduction of Heat in Solids (1959) 3.11.
inline double wall_root(double Bi, int n) {
  const double start = n * std::numbers::pi;
  return bisect([Bi](double z) { return z * std::sin(z) - Bi * std::cos(z); }, start + 1e-12,
                start + 0.5 * std::numbers::pi);
}

/// Temperature share (T - T_bath)/(T_start - T_bath) in a plane wall of half thickness 1 at x from the
/// middle.
inline double wall_share(double Bi, double Fo, double x, int terms = 60) {
  double sum = 0.0;
  for (int n = 0; n < terms; ++n) {
    const double z = wall_root(Bi, n);
    sum += 4.0 * std::sin(z) / (2.0 * z + std::sin(2.0 * z)) * std::exp(-z * z * Fo) * std::cos(z * x);
  }
  return sum;
}

/// Fourier number at which the middle of the wall has this share left.
inline double wall_time(double Bi, double share) {
  return bisect([&](double Fo) { return share - wall_share(Bi, Fo, 0.0); }, 1e-3, 1e3);
}

/// Neumann's lambda, one phase: lambda exp(lambda^2) erf(lambda) = Ste / sqrt(pi); Carslaw & Jaeger 11.2.
inline double stefan_lambda(double Ste) {
  return bisect(
      [Ste](double l) { return l * std::exp(l * l) * std::erf(l) - Ste / std::sqrt(std::numbers::pi); }, 1e-9,
      5.0);
}

/// Neumann's lambda, two phases of equal conductivity and density: wall below (or above) melting by `wall`,
/// the far side on the other side of it by `far`, both in units of latent heat (c dT / L); Carslaw &
/// Jaeger 11.2 (IX).
inline double neumann_lambda(double wall, double far, double diffusivity_ratio) {
  const double r = std::sqrt(diffusivity_ratio);  // frozen over unfrozen
  return bisect(
      [&](double l) {
        const double near_side = wall * std::exp(-l * l) / std::erf(l);
        const double far_side = far / r * std::exp(-l * l * r * r) / std::erfc(l * r);
        return l * std::sqrt(std::numbers::pi) - near_side + far_side;
      },
      1e-9, 5.0);
}

}  // namespace warmsheet::heat_tests
