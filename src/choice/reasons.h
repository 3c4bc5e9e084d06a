// SPDX-License-Identifier: MIT
// Reasons in plain clinical words, built from the figures.
#pragma once

#include <vector>

#include "choice/needs.h"

namespace warmsheet::choice {

/// "rigidity: how far it gives under the push": what a need is about, for lists.
Phrase need_title(std::string_view need);

/// What a need found in an item, said as a reason for it or against it.
Phrase reason(const NeedResult& result, const RankedItem& item, const Piece& piece, bool in_favour);

/// The two strongest reasons each way: needs weighed by their points, compared with the field's mean worth
/// (or with one half, if the item stands alone).
void give_reasons(std::vector<RankedItem>& ranking, const Piece& piece);

/// What stands in the way, in words: for ExcludedItem::obstacles.
Phrase obstacle_title(std::string_view obstacle);

/// Why a hard need leaves an item out.
Phrase lack(const library::Need& need, const Candidate& candidate, const std::vector<NamedFinding>& figures);

/// What would bring another item to the front: single weights, other thickness or holes of the same sheet,
/// the liner.
std::vector<Phrase> what_would_change(const Choice& choice, const library::Library& library);

}  // namespace warmsheet::choice
