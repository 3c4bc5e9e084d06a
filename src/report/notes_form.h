// SPDX-License-Identifier: MIT
// An empty sheet of stopwatch notes for the plan's own sheet and bath, in the form that `calibrate` reads.
#pragma once

#include <string>

#include "plan/plan.h"

namespace warmsheet::report {

/// TOML. The times to take stand in comments, with what the plan expects of them: an untouched form holds no
/// measurement and is refused as such.
std::string notes_form(const plan::Plan& plan);

}  // namespace warmsheet::report
