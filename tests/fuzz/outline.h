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

/// Files that may or may not state their unit.
template <class Read>
int reads_drawing(Read read, const char* file, const std::uint8_t* data, std::size_t size) {
  for (const bool stated : {false, true}) {
    outline::ReadOptions options;
    if (stated) options.user_unit = Length{1e-3};
    reads([&] { check_outline(read(text_of(data, size), file, options)); });
  }
  return 0;
}

/// A picture is a scan, or a photo of a sheet of paper.
template <class Read>
int reads_picture(Read read, const char* file, const std::uint8_t* data, std::size_t size) {
  outline::ReadOptions options;
  options.user_unit =
      Length{0.0254 / 10.0};  // ten pixels to an inch make small images patterns of a real size
  reads([&] { check_outline(read(text_of(data, size), file, options)); });
  options.user_unit.reset();  // then the file's own word counts
  reads([&] { check_outline(read(text_of(data, size), file, options)); });
  options.paper = outline::a4_paper;
  reads([&] { check_outline(read(text_of(data, size), file, options)); });
  return 0;
}

}  // namespace warmsheet::fuzz
