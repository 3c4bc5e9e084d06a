// SPDX-License-Identifier: MIT
// The sheet on the limb: from contact until it is set. Cells from the left: outer face of the sheet ... inner
// face, water trapped under it, then through contact or liner the skin, from its surface to the core.
#pragma once

#include "heat/air_run.h"
#include "heat/case.h"

namespace warmsheet::heat {

struct LimbRun {
  double peak_K = 0.0;       ///< of the basal layer
  double peak_time_s = 0.0;  ///< since contact
  double damage = 0.0;
  Setting setting = {};        ///< since removal; what was reached in air is not repeated here
  Track basal_K = {};          ///< against seconds since contact; only if asked for
  Track damage_so_far = {};    ///< likewise
  Track crystallinity = {};    ///< against seconds since removal; only if asked for
  Track outer_surface_K = {};  ///< against seconds since removal; only if asked for
};

enum class LimbGoal {
  skin,            ///< until the skin has the worst behind it
  setting,         ///< until the sheet is set and the skin has the worst behind it
  setting_curves,  ///< the same, with the tracks
};

/// `contact` is the sheet as it is laid on. Runs `longest_s` at most.
LimbRun run_limb(const Bench& bench, const SheetState& contact, LimbGoal goal, double longest_s);

/// The first moment, in seconds since removal, at which the sheet may be laid on and left there: the basal
/// layer then stays at or below its limit and its damage below the other limit. Later moments are safer (a
/// property test), so there is one root. Nothing if no moment by `longest_s` is safe.
std::optional<double> find_wait(const Bench& bench, AirRun& air, const ContactGuess& guess, double longest_s);

}  // namespace warmsheet::heat
