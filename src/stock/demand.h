// SPDX-License-Identifier: MIT
// Who comes when: orthoses by kind, size and moment, the same for every policy that is compared (common
// random numbers).
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "stock/law.h"

namespace warmsheet::stock {

/// A piece to cut.
struct Arrival {
  double month;  ///< moment, months from the start
  std::uint32_t kind;
  std::uint32_t size;
};

/// How often a kind is asked for, as plain numbers.
struct KindDemand {
  double per_month = 0.0;         ///< mean of a Poisson law; or
  std::vector<int> history = {};  ///< one count for each month of the history, drawn whole
  std::vector<double> size_shares = {};
  double level = 1.0;                ///< factor on both
  double scrap_chance = 0.0;         ///< that a piece is spoiled and another one cut at once
  double remake_chance = 0.0;        ///< that an orthosis is made again after a fitting
  double remake_after_months = 0.0;  ///< how long after it was made
};

struct Demand {
  std::vector<KindDemand> kinds;
  std::array<double, 12> season{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1};
  double growth_a_year = 0.0;
  int first_month = 0;  ///< 0 is January
  std::uint64_t seed = 1;

  /// Factor on the mean in a month after the start.
  [[nodiscard]] double factor(int month) const;
  /// Mean number of pieces, makes and remakes, in an average month without growth.
  [[nodiscard]] double pieces_per_month(std::size_t kind) const;
};

/// All pieces of a run of `months`, in order of time. `run` chooses the random numbers: same run, same
/// pieces. All kinds of a month with a history take the same month of it, so that a busy month is busy for
/// all of them.
std::vector<Arrival> arrivals(const Demand& demand, std::uint64_t run, int months, bool growing);

}  // namespace warmsheet::stock
