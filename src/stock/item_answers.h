// SPDX-License-Identifier: MIT
// One item of the caseload: what was simulated of it, as figures.
#pragma once

#include <vector>

#include "stock/answers.h"
#include "stock/pieces.h"

namespace warmsheet::stock {

/// `low` and `high`: the same item at the ends of the demand, or null. `months`: how many were simulated.
ItemAnswer item_answer(const Caseload& caseload, const library::Library& library, const ItemStudy& study,
                       const ItemStudy* low, const ItemStudy* high, const std::vector<KindPieces>& pieces,
                       const Figure& months);

}  // namespace warmsheet::stock
