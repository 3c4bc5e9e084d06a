// SPDX-License-Identifier: MIT
// How a figure is put into characters: the digits it deserves, its range, its unit.
#pragma once

#include <string>

#include "base/figure.h"

namespace warmsheet::report {

/// Terminals get ASCII ("70 C", "410 cm2"), pages and drawings get symbols ("70 °C", "410 cm²").
enum class Glyphs { ascii, symbols };

struct ValueText {
  std::string value;  ///< with its unit
  std::string low;  ///< empty if the range is too narrow to show; without unit, unless it is a composed time
  std::string high;

  [[nodiscard]] bool has_range() const { return !low.empty(); }
};

/// Figures read in a source keep the digits written there, up to four; computed ones get what their range
/// allows: the last place is the largest power of ten that divides the range into at least four, and never
/// finer than three digits. Bounds are rounded outward, so that the range shown holds the range meant.
ValueText value_text(const Figure& figure, Glyphs glyphs);

/// A number of a scale or a coordinate, fixed point, without trailing zeros: for drawings, never for results.
std::string fixed(double number, int decimals);

}  // namespace warmsheet::report
