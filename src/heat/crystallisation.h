// SPDX-License-Identifier: MIT
// How fast a molten sheet turns solid again. Hoffman-Lauritzen gives the half-time at a temperature, scaled
// so that it is `half_time_42` at 42 C; Nakamura carries it through a changing temperature. Written in the
// integrated variable
//     Y = (-ln(1 - X))^(1/n),   dY/dt = K(T) = (ln 2)^(1/n) / t_half(T),   X = 1 - exp(-Y^n),
// Nakamura's equation has no singular start and any history is a plain integral.
// References: Hoffman & Lauritzen, J Res NBS 65A (1961) 297; Nakamura et al., J Appl Polym Sci 17 (1973)
// 1031.
#pragma once

#include <vector>

namespace warmsheet::heat {

struct KineticConstants {
  double activation_J_mol;       ///< U*
  double glass_limit_K;          ///< T_inf: no transport at and below
  double equilibrium_melting_K;  ///< Tm0: no crystals at and above
  double nucleation_K2;          ///< Kg
  double avrami;                 ///< n
  double seed;                   ///< relative crystallinity that is there from the start
  double half_time_42_s;
};

/// Half-time at `temperature_K` in seconds; infinite where nothing crystallises.
double half_time_s(const KineticConstants& constants, double temperature_K);

/// Tables of K(T) and X(Y), since they are asked for in every cell of every step. Linear between the entries;
/// the relative error stays below 1e-3 (K, up to 50 C; above, nothing happens within hours) and the absolute
/// error below 1e-5 (X) (tests/heat/crystallisation_tests.cpp).
class Kinetics {
 public:
  explicit Kinetics(const KineticConstants& constants);

  struct Rate {
    double per_s;
    double per_s_K;  ///< slope in temperature
  };
  [[nodiscard]] Rate rate(double temperature_K) const;

  struct Share {
    double value;
    double slope;  ///< dX/dY
  };
  /// Relative crystallinity at a progress Y.
  [[nodiscard]] Share share(double progress) const;

  /// Y at a relative crystallinity, never below the seed's and never above `full_progress()`.
  [[nodiscard]] double progress(double share) const;
  [[nodiscard]] double seed_progress() const { return seed_progress_; }
  [[nodiscard]] double full_progress() const { return full_progress_; }

 private:
  double avrami_;
  double lowest_K_;
  double per_step_;
  double seed_progress_;
  double full_progress_;
  std::vector<double> rates_;
  std::vector<double> shares_;
};

}  // namespace warmsheet::heat
