// SPDX-License-Identifier: MIT
// Plain lines of a fixed width: folding with a hanging indent, pairs in columns, tables that stack when too
// wide.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/phrase.h"

namespace warmsheet::report {

/// Phrases as one line of text, figures with range and mark, cleaned. Words that belong together ("3.2 mm")
/// are held by a space that `fold` does not break at while there is room.
std::string phrase_line(const Phrase& phrase);
std::string finding_line(const Finding& finding);

/// Lines of at most `width` columns, broken at spaces, then at held spaces, then anywhere.
std::vector<std::string> fold(std::string_view line, std::size_t width);

/// Columns that `line` would take unbroken.
std::size_t line_columns(std::string_view line);

/// Writes `line` after `head`; the lines that follow are indented by the columns of `head`.
void put(std::string& out, std::string_view head, std::string_view line, std::size_t width);

struct Pair {
  std::string label;
  std::string value;
};
/// "  label:  value", the values in one column.
void put_pairs(std::string& out, const std::vector<Pair>& pairs, std::size_t width);

struct Grid {
  std::vector<std::string> head;
  std::vector<std::vector<std::string>> rows;
  std::vector<bool> numeric;  ///< by column: set right, folded only between value and range
};
/// Columns side by side if they fit, text columns folded if that helps, else each row as a stack of pairs.
void put_grid(std::string& out, const Grid& grid, std::size_t width);

}  // namespace warmsheet::report
