// SPDX-License-Identifier: MIT
// What the bench says beside what the model says.
#pragma once

#include <string>
#include <vector>

#include "base/caution.h"
#include "base/figure.h"
#include "base/phrase.h"
#include "heat/situation.h"
#include "heat/timing.h"

namespace warmsheet::plan {

struct PracticeComparison {
  std::string what;
  Finding model;
  Finding practice;
  Phrase verdict;  ///< whether the two ranges meet, in words
};

/// The bath, over its whole range, is one that this sheet is usually softened in.
bool usual_bath(const heat::Situation& situation);

/// Heating and working time: the library's practice ranges for the nearest thickness within a tenth and the
/// sheet's usual bath, against this timing. Where the library holds none, the comparison says so.
std::vector<PracticeComparison> compare_with_practice(const heat::Situation& situation,
                                                      const heat::Timing& timing);

/// Where such sheet usually stiffens so soon that the wait leaves less than forming takes, and the model says
/// longer.
std::vector<Caution> practice_cautions(const std::vector<PracticeComparison>& comparisons,
                                       const heat::Timing& timing, const Figure& form_time);

}  // namespace warmsheet::plan
