// SPDX-License-Identifier: MIT
// Reheating an edge, an end or a spot: the part in the water softens as in the bath; beyond the waterline
// heat creeps along the sheet while its faces lose it to the air, as in a fin. What softens there was not
// meant to. Reference: Cengel & Ghajar, Heat and Mass Transfer 5e, 3-6 (long fins), and the solver's own
// transient.
#pragma once

#include "heat/case.h"

namespace warmsheet::heat {

/// How far beyond the waterline the sheet has lost half of its crystals when the dipped part has been in for
/// `time_s`. The waterline is held at the bath's temperature, so the reach errs long.
double edge_reach_m(const Case& c, double time_s);

}  // namespace warmsheet::heat
