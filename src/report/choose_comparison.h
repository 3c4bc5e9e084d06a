// SPDX-License-Identifier: MIT
// Stock items side by side: all figures in a table, and push against give as curves up to where each stays
// bent.
#pragma once

#include <string>
#include <vector>

#include "choice/choose.h"
#include "report/document.h"

namespace warmsheet::report {

/// Throws a Failure (usage) for a key that was not considered, with the nearest known one. What was left out
/// is shown with what it lacks.
Section comparison_section(const choice::Choice& choice, const std::vector<std::string>& keys);

}  // namespace warmsheet::report
