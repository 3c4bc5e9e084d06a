// SPDX-License-Identifier: MIT
// One orthosis, from job to bench plan: outline, cut list, timing, steps, cost, cautions.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/caution.h"
#include "choice/choose.h"
#include "heat/situation.h"
#include "heat/timing.h"
#include "library/library.h"
#include "plan/bench_steps.h"
#include "plan/cost.h"
#include "plan/cutting.h"
#include "plan/job.h"
#include "plan/practice.h"
#include "plan/questions.h"

namespace warmsheet::plan {

/// area, width, height, perimeter, holes: the outline's figures under their contract names.
std::vector<NamedFinding> outline_results(const outline::Outline& outline);

struct Plan {
  Job job;
  const library::Sheet* sheet;
  const library::StockItem* stock;
  std::optional<choice::Choice> choice;  ///< present if the job names a condition
  heat::Situation situation;
  heat::Timing timing;
  std::optional<Cutting> cutting;        ///< absent if only the area is known
  std::optional<AreaEstimate> estimate;  ///< present if only the area is known
  Cost cost;
  std::vector<PracticeComparison> practice;
  std::vector<BenchStep> steps;
  std::vector<Question> questions;  ///< for somebody who learns the work
  Finding bench_time;               ///< s, all steps of one orthosis
  Figure mass;                      ///< kg, of one trimmed orthosis without straps
  std::vector<Caution> cautions;

  /// It fits on the stock and there is a moment at which it may touch skin.
  [[nodiscard]] bool feasible() const;
  /// What differs between one and all where the job asks for copies, so that nobody takes the cost of all for
  /// that of one, or the mass of one for that of all: cost_each, bench_time_of_all, mass_of_all. Empty for a
  /// single one.
  [[nodiscard]] std::vector<NamedFinding> copies_results() const;
  /// Outline, nesting, timing and cost results under their contract names.
  [[nodiscard]] std::vector<NamedFinding> results() const;
};

/// Chooses the stock where the job names only a condition. The library must outlive the plan. Throws a
/// Failure (no_answer or data) where no plan can be made at all.
Plan make_plan(const library::Library& library, Job job, const nesting::Effort& effort);

}  // namespace warmsheet::plan
