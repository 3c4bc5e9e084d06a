// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>

#include "fuzz/target.h"
#include "outline/outline.h"

namespace warmsheet::fuzz {

/// Whatever a reader made of the bytes, it is a shape that can be cut.
inline void check_outline(const outline::Outline& read) {
  const outline::Polygon& shape = read.shape;
  require(shape.outer().size() >= 3, "an outline has three corners");
  require(std::isfinite(shape.area_mm2()) && shape.area_mm2() > 0.0, "an outline has an area");
  require(shape.area_mm2() <= shape.box().width_mm() * shape.box().height_mm() * (1.0 + 1e-9),
          "it lies in its box");
  require(read.area.low_si() <= read.area.si() && read.area.si() <= read.area.high_si(),
          "bounds are in order");
  require(read.perimeter.si() > 0.0, "an outline has an edge");
}

}  // namespace warmsheet::fuzz
