// SPDX-License-Identifier: MIT
// What the tests of layouts share: an effort in passes, and the demand that a layout is sound by two
// measures.
#pragma once

#include <doctest/doctest.h>

#include "nesting/orders.h"

namespace warmsheet::testing {

inline nesting::Effort effort(int passes, std::uint64_t seed = 1) {
  nesting::Effort effort;
  effort.passes = passes;
  effort.seed = seed;
  return effort;
}

/// Where pieces lie, by GEOS on the true outlines and by the room's own check.
inline void require_sound(const nesting::Order& order, const nesting::Layout& layout) {
  const std::vector<std::string> wrong = geos_complaints(order, layout);
  CAPTURE(wrong.empty() ? "" : wrong.front());
  CHECK(wrong.empty());
  CHECK(check_placements(order, layout).empty());
}

/// And nothing is missing.
inline void require_whole(const nesting::Order& order, const nesting::Layout& layout) {
  require_sound(order, layout);
  CHECK(layout.unplaced.empty());
  CHECK(check(order, layout).empty());
}

}  // namespace warmsheet::testing
