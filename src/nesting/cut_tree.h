// SPDX-License-Identifier: MIT
// Writes a guillotine cutting down as slabs, cut by cut. Sides are given with the kerf, as the programmes
// count them.
#pragma once

#include <utility>

#include "nesting/guillotine.h"

namespace warmsheet::nesting {

class CutPlanner {
 public:
  CutPlanner(Micrometres width, Micrometres height, Micrometres kerf);

  /// Cuts a slab so that its first part is `width` (`height`) with its kerf; a part of no size is waste of no
  /// size.
  std::pair<std::size_t, std::size_t> cut_across(std::size_t slab, Micrometres width);
  std::pair<std::size_t, std::size_t> cut_along(std::size_t slab, Micrometres height);
  /// Trims a slab down to a piece at its lower left corner.
  void piece(std::size_t slab, Micrometres width, Micrometres height, std::size_t blank, bool turned);

  CutTree take() { return std::move(tree_); }

 private:
  std::size_t add(Micrometres x, Micrometres y, Micrometres width, Micrometres height);

  Micrometres kerf_;
  CutTree tree_;
};

/// The same cutting, begun with a cut right across behind its farthest piece, so that what is left of the
/// sheet stays one rectangle of its full height; as it was if nothing would be left.
CutTree with_rest_cut_off(const CutTree& tree, Micrometres kerf);

}  // namespace warmsheet::nesting
