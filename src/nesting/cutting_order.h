// SPDX-License-Identifier: MIT
// In which order a person cuts the outlines of one sheet out.
#pragma once

#include <vector>

#include "nesting/nest.h"

namespace warmsheet::nesting {

/// Indices in Layout::placements of the outlines on a sheet, first to last (common practice, no source): what
/// lies in another's opening goes before that other, while the sheet round it still holds it; else from the
/// end of the used length back to the sheet's corner, so that the scissors always come in from a free edge
/// and the rest of the sheet stays in one piece to hold.
std::vector<std::size_t> cutting_order(const Order& order, const Layout& layout, std::size_t sheet);

}  // namespace warmsheet::nesting
