// SPDX-License-Identifier: MIT
// From the sheets one item used in every run to its reorder point, lot, services, cost and the coming year.
#pragma once

#include <string>
#include <vector>

#include "stock/shelf_trial.h"
#include "stock/study.h"

namespace warmsheet::stock {

inline constexpr std::size_t projection_runs = 200;
/// Runs of the projection must not meet the random numbers of the stretches.
inline constexpr std::size_t first_projection_run = 1'000'000;

/// One item in one sheet size with what was cut on it.
struct BenchRuns {
  const Item* item;
  std::string size;
  bool in_use;
  CuttingBench bench;
  std::vector<Usage> stretches;    ///< settling and stretch
  std::vector<Usage> projections;  ///< the coming year
};

/// `benches`: the size in use first. `seed` draws lead times.
ItemStudy judge_item(const Caseload& caseload, std::size_t index,
                     const std::vector<const BenchRuns*>& benches, std::uint64_t seed);

}  // namespace warmsheet::stock
