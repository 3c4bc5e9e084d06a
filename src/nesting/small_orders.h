// SPDX-License-Identifier: MIT
// Small guillotine orders solved exactly: for every part of the order, all least rectangles that it can be
// cut from.
#pragma once

#include <optional>
#include <vector>

#include "nesting/guillotine.h"

namespace warmsheet::nesting {

/// A rectangle of sheet that may be used `count` times (-1: any number of times).
struct SheetKind {
  Micrometres width = 0;
  Micrometres height = 0;
  double cost = 0.0;
  int count = -1;
};

struct SheetCutting {
  std::size_t sheet = 0;  ///< index of the kind
  CutTree tree;
};

/// The cheapest set of sheets that all blanks (`most` copies of each) can be cut from, then the one whose
/// last sheet is cut from the shortest width; nothing if there is none. Exact, by dynamic programming over
/// the parts of the order. \pre is_small(blanks)
std::optional<std::vector<SheetCutting>> cut_exactly(const std::vector<Blank>& blanks,
                                                     const std::vector<SheetKind>& sheets, Micrometres kerf);

/// Whether the exact method takes well under a second.
bool is_small(const std::vector<Blank>& blanks);

}  // namespace warmsheet::nesting
