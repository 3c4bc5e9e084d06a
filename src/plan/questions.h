// SPDX-License-Identifier: MIT
// What somebody who learns the work should be able to answer before touching hot sheet, each with the plan's
// own answer.
#pragma once

#include <vector>

#include "base/phrase.h"
#include "plan/bench_steps.h"

namespace warmsheet::plan {

struct Question {
  Phrase asks;
  Phrase answer;
};

std::vector<Question> questions_before_heat(const StepContext& context);

}  // namespace warmsheet::plan
