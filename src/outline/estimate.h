// SPDX-License-Identifier: MIT
// Measures that were not taken, estimated from those that were, and measures that look like slips.
#pragma once

#include <vector>

#include "outline/outline.h"

namespace warmsheet::outline {

/// All measures a design needs.
struct Completed {
  Measures measures;
  std::vector<std::string> unused;   ///< given, not among the design's, and nothing is estimated from them
  std::vector<RuleCheck> estimated;  ///< one broken check for each measure that should still be taken
};

/// Throws a Failure: a name that no measure has (usage), a value that is no length or that no limb has.
void require_measures(const library::Library& library, const Measures& given);

/// Takes the given measures and estimates the missing ones where a published regression supports it: at least
/// half of the variance explained in women and in men, and the given measure within the survey's range (so
/// never for children). Throws a Failure: as `require_measures`, and all measures that are still missing with
/// how to take them (data).
Completed complete(const library::Design& design, const library::Library& library, const Measures& given);

/// Values outside their usual range, and pairs whose ratio nobody in the survey has: most likely a wrong unit
/// or a swapped value. Only broken checks are listed.
std::vector<RuleCheck> alarms(const library::Library& library, const Measures& given);

}  // namespace warmsheet::outline
