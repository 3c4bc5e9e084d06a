// SPDX-License-Identifier: MIT
// A handful of pieces on one sheet: every order and every stance with the best touching positions. Finds the
// layouts in which all fits to the last digit, which a search that starts from overlaps cannot hit.
#pragma once

#include <optional>
#include <vector>

#include "nesting/task.h"

namespace warmsheet::nesting {

inline constexpr std::size_t most_of_few = 5;

/// Spots (bin 0) of a layout that ends before `length_mm`, the shortest found; nothing if none was found.
/// \pre at most `most_of_few` copies
std::optional<std::vector<Spot>> shortest_of_few(const Task& task, const Shapes& shapes, const BinUse& use,
                                                 const std::vector<std::size_t>& copies, double length_mm);

/// Each piece in turn, from the left, taken up and laid down at the touching position farthest left, until
/// nothing moves: closes the gaps that the search leaves. Never longer than before.
void close_gaps(const Task& task, const Shapes& shapes, const BinUse& use,
                const std::vector<std::size_t>& copies, std::vector<Spot>& spots);

}  // namespace warmsheet::nesting
