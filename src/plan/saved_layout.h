// SPDX-License-Identifier: MIT
// A layout as a file holds it, by names: the same outlines may stand elsewhere in a later order.
#pragma once

#include <string>
#include <vector>

#include "nesting/nest.h"

namespace warmsheet::plan {

struct SavedLayout {
  struct Placement {
    std::string outline;
    int copy = 0;           ///< from 0
    std::size_t sheet = 0;  ///< index in `sheets`
    double x_mm = 0.0;
    double y_mm = 0.0;
    double angle_deg = 0.0;
    bool flipped = false;
  };
  std::string file;
  std::vector<std::string> sheets;  ///< the stock each used sheet is of
  std::vector<Placement> placements;
};

/// The same in terms of an order. Throws a Failure (data) if it names outlines or stock the order has not.
nesting::Layout layout_of(const SavedLayout& saved, const nesting::Order& order);

/// Its pieces become fixed pieces of the order.
void lay(const SavedLayout& saved, nesting::Order& order);

/// Throws a Failure (data) if the layout is not one of exactly this order, or not a sound one.
void refuse_other_layout(const SavedLayout& saved, const nesting::Order& order,
                         const nesting::Layout& layout);

}  // namespace warmsheet::plan
