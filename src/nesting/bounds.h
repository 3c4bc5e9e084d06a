// SPDX-License-Identifier: MIT
// Proven lower bounds on the number of sheets.
#pragma once

#include "nesting/task.h"

namespace warmsheet::nesting {

/// No layout of these copies needs fewer sheets besides the kept offcuts, even if all sheets were of the
/// largest kind.
int sheets_bound(const Task& task, const std::vector<std::size_t>& copies);

}  // namespace warmsheet::nesting
