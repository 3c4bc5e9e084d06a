// SPDX-License-Identifier: MIT
// From the numbers of an item to its figures, with the spread of the draws as their range.
#pragma once

#include <vector>

#include "choice/needs.h"

namespace warmsheet::choice {

/// The numbers of one item in every draw.
using DrawnNumbers = std::vector<Numbers>;

/// Every number of the item under its name: give_angle, give, first_yield, strength, holds, modulus,
/// stiffness_left, mass, open_area, window, edging, pieces_per_sheet, cost, waste, and for closed pieces
/// tightens and squeeze.
std::vector<NamedFinding> item_figures(const Candidate& candidate, const Piece& piece,
                                       const DrawnNumbers& drawn);

/// The finding of that name; throws std::logic_error if there is none.
const Finding& figure_named(const std::vector<NamedFinding>& figures, std::string_view name);

/// The name of the figure that a measured need looks at.
std::string_view figure_of_need(std::string_view need);

}  // namespace warmsheet::choice
