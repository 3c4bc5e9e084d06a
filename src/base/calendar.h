// SPDX-License-Identifier: MIT
// The calendar's lengths of time, for units and for plain numbers in seconds.
#pragma once

namespace warmsheet {

inline constexpr double day_s = 86400.0;
inline constexpr double week_s = 7.0 * day_s;
inline constexpr double year_s = 365.2425 * day_s;  ///< mean Gregorian year: 97 leap days in 400 years
inline constexpr double month_s = year_s / 12.0;

}  // namespace warmsheet
