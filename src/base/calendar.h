// SPDX-License-Identifier: MIT
// The calendar's lengths of time, for units and for plain numbers in seconds, and its months.
#pragma once

#include <array>
#include <string_view>

namespace warmsheet {

inline constexpr double day_s = 86400.0;
inline constexpr double week_s = 7.0 * day_s;
inline constexpr double year_s = 365.2425 * day_s;  ///< mean Gregorian year: 97 leap days in 400 years
inline constexpr int months_in_year = 12;
inline constexpr double month_s = year_s / months_in_year;

inline constexpr std::array<std::string_view, months_in_year> month_names{
    "January", "February", "March",     "April",   "May",      "June",
    "July",    "August",   "September", "October", "November", "December"};

}  // namespace warmsheet
