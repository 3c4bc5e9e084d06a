// SPDX-License-Identifier: MIT
#include "stock/areas.h"

#include <algorithm>

#include "base/dimension.h"
#include "stock/shelf_trial.h"

namespace warmsheet::stock {
namespace {

constexpr std::size_t years_in_stretch = stretch_months / months_in_year;

}  // namespace

Areas& Areas::operator+=(const Areas& other) {
  cut_m2 += other.cut_m2;
  opened_m2 += other.opened_m2;
  practice_m2 += other.practice_m2;
  return *this;
}

double Areas::waste() const {
  return opened_m2 > 0.0 ? std::clamp(wasted_m2() / opened_m2, 0.0, 1.0) : 0.0;
}

std::vector<Areas> areas_by_year(const std::vector<Usage>& stretches, double sheet_mm2) {
  std::vector<Areas> years;
  for (const Usage& usage : stretches)
    for (std::size_t m = settling_months; m < usage.months.size(); ++m) {
      const MonthUse& month = usage.months[m];
      if ((m - settling_months) % months_in_year == 0) years.emplace_back();
      const double from_offcuts_mm2 = usage.months[m - 1].kept_mm2 - month.kept_mm2;
      years.back() += {month.cut_mm2 / mm2_per_m2, (month.sheets * sheet_mm2 + from_offcuts_mm2) / mm2_per_m2,
                       month.practice_mm2 / mm2_per_m2};
    }
  return years;
}

std::optional<Summary> summary_of_waste(const std::vector<Areas>& years) {
  Areas all;
  std::vector<double> yearly;
  for (const Areas& year : years) {
    all += year;
    if (year.cut_m2 > 0.0) yearly.push_back(year.waste());
  }
  if (yearly.empty()) return std::nullopt;
  const Summary spread = summarise(yearly);
  return Summary{all.waste(), std::min(spread.low, all.waste()), std::max(spread.high, all.waste())};
}

std::vector<Areas> by_stretch(const std::vector<Areas>& years) {
  std::vector<Areas> stretches;
  for (std::size_t year = 0; year < years.size(); ++year) {
    if (year % years_in_stretch == 0) stretches.emplace_back();
    stretches.back() += years[year];
  }
  return stretches;
}

}  // namespace warmsheet::stock
