// SPDX-License-Identifier: MIT
// How many sheets, cut by which patterns, give so many of each blank: the cutting stock problem, for anything
// that can say which single pattern is worth most. The fractional plan is a proven bound; rounding it up is a
// plan, not always the best one (two sheets may be called for by the bound where three are needed).
#pragma once

#include <functional>
#include <vector>

namespace warmsheet::stock {

/// Blanks of each kind on one sheet.
using Pattern = std::vector<int>;

/// The pattern of most worth, with no more of a kind than `most`.
using BestPattern = std::function<Pattern(const std::vector<double>& worth, const std::vector<int>& most)>;

struct PatternUse {
  Pattern pattern;
  double sheets;
};

/// Fewest sheets if fractions of one could be cut, by column generation (Gilmore and Gomory 1961, Operations
/// Research 9:849-859). \pre every kind that is asked for fits a sheet
std::vector<PatternUse> fractional_plan(const std::vector<int>& demand, const BestPattern& best_pattern);

}  // namespace warmsheet::stock
