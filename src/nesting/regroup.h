// SPDX-License-Identifier: MIT
// Which pieces share a sheet: units move from emptier sheets to fuller ones, alone or in exchange for a
// smaller one, as long as the search finds room for them; sheets run empty, or shrink to cheaper ones. One
// sheet is searched at a time, so the effort grows with the number of pieces and not with its square.
#pragma once

#include "nesting/sheets.h"

namespace warmsheet::nesting {

class Budget;

/// \param budget ends at its phase
SheetPlan regroup(const Task& task, const Shapes& shapes, const Effort& effort, SheetPlan plan,
                  Budget& budget);

}  // namespace warmsheet::nesting
