// SPDX-License-Identifier: MIT
// Areas of sheet over some months, and what of them was wasted.
#pragma once

#include <optional>
#include <vector>

#include "stock/summary.h"
#include "stock/usage.h"

namespace warmsheet::stock {

struct Areas {
  double cut_m2 = 0.0;       ///< became orthosis
  double opened_m2 = 0.0;    ///< sheets opened for orthoses, and offcuts used up beyond those put by
  double practice_m2 = 0.0;  ///< used for practice

  Areas& operator+=(const Areas& other);
  /// Did not become orthosis. What is practised on is not wasted.
  [[nodiscard]] double wasted_m2() const { return opened_m2 - cut_m2; }
  [[nodiscard]] double used_m2() const { return opened_m2 + practice_m2; }
  /// Of what was opened for orthoses; 0 if nothing was.
  [[nodiscard]] double waste() const;
};

/// Year by year after the settling, stretch after stretch.
std::vector<Areas> areas_by_year(const std::vector<Usage>& stretches, double sheet_mm2);

/// Of all years together, and where nine of ten years lie that cut anything; absent if none did.
std::optional<Summary> summary_of_waste(const std::vector<Areas>& years);

/// The years of each stretch added up.
std::vector<Areas> by_stretch(const std::vector<Areas>& years);

}  // namespace warmsheet::stock
