// SPDX-License-Identifier: MIT
// One strip of given height, as short as possible: the seam at which the engine is measured on published
// instances.
#pragma once

#include "nesting/nest.h"

namespace warmsheet::nesting {

struct StripOrder {
  std::vector<Piece> pieces;
  double height_mm = 0.0;
  double spacing_mm = 0.0;
  double margin_mm = 0.0;
};

struct Strip {
  double length_mm =
      0.0;  ///< 0 if the effort ended before any layout was found; then there are no placements
  double shortest_mm = 0.0;  ///< proven: by area, and by the narrowest turn of the widest piece
  std::vector<Placement> placements;
  std::uint64_t evaluations = 0;  ///< positions tried
  bool stopped_early = false;
};

/// Throws a Failure: data if the order makes no sense, no_answer if a piece is higher than the strip in every
/// turn.
Strip shortest_strip(const StripOrder& order, const Effort& effort);

}  // namespace warmsheet::nesting
