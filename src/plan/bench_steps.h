// SPDX-License-Identifier: MIT
// The bench plan: what to do, in order, with a clock. Three clocks run one after the other: before the bath,
// from immersion, from lifting out.
#pragma once

#include <string>
#include <vector>

#include "base/phrase.h"
#include "heat/situation.h"
#include "heat/timing.h"
#include "library/library.h"
#include "outline/outline.h"

namespace warmsheet::plan {

struct BenchStep {
  Phrase clock;  ///< may be empty
  Phrase action;
  Phrase detail;  ///< how, and what to look for
  Phrase why;     ///< for a student; may be empty
};

struct StepContext {
  const heat::Situation* situation;
  const heat::Timing* timing;
  const outline::Outline* outline;  ///< null if only the area is known
  const library::Library* library;
  Figure form_time;
  bool edging;
  bool lining;
  std::vector<std::string> precautions;  ///< ids of library/precautions.h
  int copies = 1;
  const library::Condition* condition = nullptr;  ///< null if the job names none
};

/// When it is taken off the limb: once it holds its shape, or once it is set if the joint may not move.
const Finding& comes_off(const heat::Timing& timing, const std::vector<std::string>& precautions);

/// One step, STOP, if there is no safe window.
std::vector<BenchStep> bench_steps(const StepContext& context);

}  // namespace warmsheet::plan
