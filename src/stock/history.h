// SPDX-License-Identifier: MIT
// A history of orthoses by month: a table as any spreadsheet saves it, months down, kinds across.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace warmsheet::stock {

/// How the cells of a table are parted. Quotes as in RFC 4180; counts are whole, so no decimal sign can be
/// meant. Where numbers have decimals, those parted by a semicolon have a decimal comma.
enum class Dialect { comma, semicolon, tab };
/// "comma", "semicolon", "tab"
const std::vector<std::string>& dialect_words();
Dialect dialect_of(std::string_view word);
char separator(Dialect dialect);

/// Of one kind. More would take a machine longer than a clinic is worth simulating.
inline constexpr int most_orthoses_a_month = 5000;

struct History {
  std::string file;
  std::vector<std::string> months;                 ///< as written in the first column
  std::map<std::string, std::vector<int>> counts;  ///< by heading; one count for each month
};

/// First line: headings; first column: the month, each different. Every slip is reported with its place
/// (Failure, data): no rows, ragged rows, a row that is no month (a total), two equal headings, an open
/// quote, a count that is no whole number of 0 or more.
History read_history(std::string_view text, const std::string& file, Dialect dialect);

/// A cell as this dialect needs it written.
std::string cell_text(std::string_view text, Dialect dialect);

}  // namespace warmsheet::stock
