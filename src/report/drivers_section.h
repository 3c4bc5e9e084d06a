// SPDX-License-Identifier: MIT
// What widens the ranges of a timing, and what somebody can measure or change about it.
#pragma once

#include "heat/timing.h"
#include "report/document.h"
#include "report/sections.h"

namespace warmsheet::report {

/// For each thing that can be measured how much of the widest range it would leave; as a whole, before that
/// the two inputs that widen each result most.
Section drivers_section(const std::vector<heat::Driver>& drivers, Detail detail);

}  // namespace warmsheet::report
