// SPDX-License-Identifier: MIT
// Poles: discs that together stand for a shape when the depth of an overlap is judged. Each is the largest
// that fits in the shape beside the ones before it.
#pragma once

#include <vector>

#include "nesting/plane.h"

namespace warmsheet::nesting {

struct Pole {
  Vec at;
  double radius;
};

/// Largest first: until 90 % of the area is covered (at least 6 of them), or 80 % with 12, or 28 in all.
std::vector<Pole> poles_of(const Region& region);

}  // namespace warmsheet::nesting
