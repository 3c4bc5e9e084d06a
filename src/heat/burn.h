// SPDX-License-Identifier: MIT
// Burn damage as an integral over the temperature of the basal layer:
//     Omega = integral of P exp(-(dE/R) / T) dt,   0 below the threshold.
// 0.53 is a first-degree burn, 1 complete necrosis of the epidermis.
// References: Henriques, Arch Pathol 43 (1947) 489; Physics of Thermal Therapy (Moros ed., 2013) p. 49.
#pragma once

namespace warmsheet::heat {

inline constexpr double first_degree_damage = 0.53;

/// P and dE/R belong together. 3.1e98 1/s goes with 75 000 K; the pair with 6.28e5 J/mol over 8.314 (75 535
/// K), met in many programs, makes burns five times slower than they are and is never used here.
struct DamageLaw {
  double factor_per_s;
  double activation_K;
  double threshold_K;  ///< counts at and above
};

double damage_rate_per_s(const DamageLaw& law, double basal_K);

/// Over a stretch in which the temperature is a straight line: the rate is then nearly an exponential of
/// time, whose integral is exact. Splits at the threshold.
double damage_over(const DamageLaw& law, double from_K, double to_K, double duration_s);

}  // namespace warmsheet::heat
