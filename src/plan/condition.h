// SPDX-License-Identifier: MIT
// What a condition adds to a job: whatever the job leaves open, and the sheet if none is named.
#pragma once

#include "choice/choose.h"
#include "library/library.h"
#include "plan/job.h"

namespace warmsheet::plan {

/// The condition's liner where the job names none, its precautions beside the job's own, and, where the job
/// names no skin kind, the most careful one that the condition and all precautions ask for. `condition` may
/// be null.
void take_over(Job& job, const library::Library& library, const library::Condition* condition);

/// Usual time to form the piece: of the outline's design, else of the condition, else of any piece.
/// `condition` may be null.
Figure form_time_of(const library::Library& library, const Job& job, const library::Condition* condition);

/// Ranks all stock for the job's condition, outline, person and bath.
choice::Choice choose_for(const library::Library& library, const Job& job);

/// The named stock item, else the first of the ranking. Throws a Failure (no_answer) with the nearest misses
/// if none is named and nothing qualifies.
const library::StockItem& stock_for(const library::Library& library, const Job& job,
                                    const choice::Choice* choice);

}  // namespace warmsheet::plan
