// SPDX-License-Identifier: MIT
// Published strip instances in the open JSON form (items with demand, allowed orientations, points; strip
// height).
#pragma once

#include <optional>
#include <string>

#include "nesting/strip.h"

namespace warmsheet::testing {

struct Instance {
  std::string name;
  nesting::StripOrder order;
  double scale;  ///< millimetres of the order for one unit of the file
};

/// The strip is scaled to this height, so that the room's tolerances mean what they mean for sheets.
inline constexpr double strip_height_mm = 500.0;

/// Nothing if there is no such file.
std::optional<Instance> read_instance(const std::string& path);

/// Item area over strip area up to the length, 0 to 1.
double density(const Instance& instance, double length_mm);

/// The strip as an order on one sheet of the length found, so that checks of layouts apply.
nesting::Order as_order(const Instance& instance, double length_mm);
nesting::Layout as_layout(const nesting::Strip& strip);

}  // namespace warmsheet::testing
