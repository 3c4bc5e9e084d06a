// SPDX-License-Identifier: MIT
// What widens the ranges of a timing, and what somebody can measure or change about it.
#pragma once

#include "heat/timing.h"
#include "report/document.h"

namespace warmsheet::report {

/// For each result the two inputs that widen it most, then for each thing that can be measured how much of
/// the widest range it would leave.
Section drivers_section(const std::vector<heat::Driver>& drivers);

}  // namespace warmsheet::report
