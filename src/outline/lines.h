// SPDX-License-Identifier: MIT
// Lines to trim, flare and fold along, laid on a finished shape.
#pragma once

#include <vector>

#include "outline/pattern.h"

namespace warmsheet::outline {

struct PlacedLine {
  std::vector<Path> parts;
  bool inside;  ///< nothing of it that should lie on material lies off it
};

/// \param index of the line in the design
PlacedLine place_line(const library::Design& design, const Drawn& drawn, std::size_t index,
                      const Polygon& shape);

}  // namespace warmsheet::outline
