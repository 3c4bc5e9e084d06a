// SPDX-License-Identifier: MIT
#include "heat/crystallisation.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "heat/constants.h"

namespace warmsheet::heat {
namespace {

constexpr double anchor_K = zero_C_K + 42.0;
// Spacing of the tables: K changes by at most 5 % in an eighth of a kelvin at these temperatures, so a
// straight line between entries is wrong by 3e-4 at most.
constexpr double table_step_K = 0.125;
// Colder than any room; below, the first entry holds (and a sheet there has long been solid).
constexpr double table_bottom_K = zero_C_K + 5.0;
constexpr std::size_t share_steps = 600;
// 1 - X that counts as fully crystalline: a thousand times finer than the last result (95 %).
constexpr double rest_when_full = 1e-5;

/// Logarithm of the growth rate, up to a constant; only inside (glass limit, equilibrium melting).
double log_growth(const KineticConstants& c, double T) {
  const double undercooling = c.equilibrium_melting_K - T;
  const double narrowing = 2.0 * T / (c.equilibrium_melting_K + T);
  return -c.activation_J_mol / (gas_constant_J_molK * (T - c.glass_limit_K)) -
         c.nucleation_K2 / (T * undercooling * narrowing);
}

double interpolate(const std::vector<double>& table, double place, double& slope) {
  const auto last = static_cast<double>(table.size() - 1);
  if (place <= 0.0 || place >= last) {
    slope = 0.0;
    return place <= 0.0 ? table.front() : table.back();
  }
  const auto below = static_cast<std::size_t>(place);
  slope = table[below + 1] - table[below];
  return table[below] + slope * (place - static_cast<double>(below));
}

}  // namespace

double half_time_s(const KineticConstants& c, double temperature_K) {
  if (temperature_K >= c.equilibrium_melting_K || temperature_K <= c.glass_limit_K)
    return std::numeric_limits<double>::infinity();
  return c.half_time_42_s * std::exp(log_growth(c, anchor_K) - log_growth(c, temperature_K));
}

Kinetics::Kinetics(const KineticConstants& c)
    : avrami_(c.avrami), lowest_K_(table_bottom_K), per_step_(0.0), seed_progress_(0.0), full_progress_(0.0) {
  const double at_half = std::pow(std::numbers::ln2, 1.0 / avrami_);
  const auto entries =
      static_cast<std::size_t>(std::max(2.0, (c.equilibrium_melting_K - lowest_K_) / table_step_K + 1.0));
  rates_.reserve(entries + 1);
  for (std::size_t i = 0; i < entries; ++i)
    rates_.push_back(at_half / half_time_s(c, lowest_K_ + table_step_K * static_cast<double>(i)));
  rates_.push_back(0.0);

  full_progress_ = std::pow(-std::log(rest_when_full), 1.0 / avrami_);
  per_step_ = full_progress_ / static_cast<double>(share_steps);
  shares_.reserve(share_steps + 1);
  for (std::size_t i = 0; i <= share_steps; ++i)
    shares_.push_back(-std::expm1(-std::pow(per_step_ * static_cast<double>(i), avrami_)));
  seed_progress_ = std::pow(-std::log1p(-c.seed), 1.0 / avrami_);
}

Kinetics::Rate Kinetics::rate(double temperature_K) const {
  Rate rate{};
  rate.per_s = interpolate(rates_, (temperature_K - lowest_K_) / table_step_K, rate.per_s_K);
  rate.per_s_K /= table_step_K;
  return rate;
}

Kinetics::Share Kinetics::share(double progress) const {
  Share share{};
  share.value = interpolate(shares_, progress / per_step_, share.slope);
  share.slope /= per_step_;
  return share;
}

double Kinetics::progress(double share) const {
  if (share >= shares_.back()) return full_progress_;
  const double exact = std::pow(-std::log1p(-std::max(share, 0.0)), 1.0 / avrami_);
  return std::clamp(exact, seed_progress_, full_progress_);
}

}  // namespace warmsheet::heat
