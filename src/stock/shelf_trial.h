// SPDX-License-Identifier: MIT
// A policy tried on the simulated withdrawals of many stretches, each begun at several points of the order
// cycle, so that a cycle longer than the stretch is still seen whole.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "base/calendar.h"
#include "stock/shelf.h"
#include "stock/summary.h"
#include "stock/usage.h"

namespace warmsheet::stock {

inline constexpr int settling_months = 12;  ///< the drawer of offcuts fills in well under a year
inline constexpr int stretch_months = 48;

/// Shelves to begin with at points of the order cycle that lie equally far apart, the first one `offset` of a
/// gap into it. The position is then equally likely anywhere from above the reorder point to the level
/// ordered up to, as in the exact model of unit demands (Hadley and Whitin; from memory).
std::vector<ShelfStart> starts_in_cycle(const OrderPolicy& policy, double demand_a_month,
                                        const std::optional<double>& life_months, double offset);

struct Trial {
  std::optional<Estimate> cycle;  ///< share of deliveries before which nothing was short; absent if none came
  std::optional<Estimate> fill;   ///< share served at once; absent if nothing was asked for
  double expired_share = 0.0;     ///< of what was ordered
  std::vector<std::vector<ShelfRun>> runs;  ///< by stretch, then by start; every stretch has as many
};

/// `stretches` hold settling and stretch; `seed` draws lead times and where in the cycle each one begins.
Trial try_policy(const std::vector<Usage>& stretches, const ShelfRules& rules, const OrderPolicy& policy,
                 std::uint64_t seed);

}  // namespace warmsheet::stock
