// SPDX-License-Identifier: MIT
// The timing's curves as plots: melting in the bath, cooling with the window shaded, skin.
#pragma once

#include <vector>

#include "heat/timing.h"
#include "report/document.h"

namespace warmsheet::report {

/// bath, cooling, skin; those whose curves are empty are left out.
std::vector<Plot> timing_plots(const heat::Timing& timing);

}  // namespace warmsheet::report
