// SPDX-License-Identifier: MIT
// A source file as the rules of the house see it: its lines, its code without comments and texts, its
// includes and the lengths of its functions. No compiler is asked; a scanner that knows comments, texts, raw
// texts and braces is enough for code in the house format.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace warmsheet::house {

struct Include {
  std::size_t line;  // from 1
  std::string name;  // "base/text.h", "vector"
  bool own;          // in quotes
};

struct Function {
  std::size_t line;    // of its first line
  std::size_t length;  // in lines, rows of tables left out if asked for
};

/// `text` with the contents of comments, texts and characters blanked; line ends stay, so lines can be
/// counted.
std::string code_of(std::string_view text);

std::vector<std::string> lines_of(std::string_view text);

std::vector<Include> includes_of(std::string_view text);

/// Outermost functions (lambdas count to theirs). A line that starts with a brace or a text is a row of a
/// table.
std::vector<Function> functions_of(std::string_view text, bool without_table_rows);

/// Where `word` stands in the code as a whole word, as line numbers from 1. `word` may hold any signs; it
/// must not be preceded or followed by a letter, digit or underscore where it starts or ends with one.
std::vector<std::size_t> lines_with(std::string_view code, std::string_view word);

}  // namespace warmsheet::house
