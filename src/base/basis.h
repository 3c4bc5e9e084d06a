// SPDX-License-Identifier: MIT
// Where a number comes from. The order is the rule: a derived figure carries the weakest basis among
// all it rests on, and `demo` is the weakest.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace warmsheet {

/// Weakest first; comparing two bases with `<` asks which one is weaker.
enum class Basis { demo, memory, practice, handbook, bench, entered };

/// The word used in files and JSON, e.g. "handbook".
std::string_view basis_word(Basis basis);

/// One capital letter for text output, explained by the legend of every report.
char basis_mark(Basis basis);

/// What the word promises to a reader, as one clause for the legend.
std::string_view basis_meaning(Basis basis);

std::optional<Basis> basis_from_word(std::string_view word);

/// All bases, weakest first.
const std::vector<Basis>& all_bases();

}  // namespace warmsheet
