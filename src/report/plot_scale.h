// SPDX-License-Identifier: MIT
// Axes with round ticks, and room for the labels of marked moments.
#pragma once

#include <string>
#include <vector>

#include "report/document.h"

namespace warmsheet::report {

/// A straight map from values to places on paper.
struct Scale {
  double from;  ///< first value shown
  double to;
  double start_mm;  ///< where `from` stands
  double end_mm;

  [[nodiscard]] double place(double value) const {
    return start_mm + (value - from) / (to - from) * (end_mm - start_mm);
  }
};

/// A step of 1, 2 or 5 times a power of ten that divides the span into about `wanted` parts.
double round_step(double span, int wanted);

/// Multiples of the step from the first at or below `low` to the last at or above `high`.
std::vector<double> ticks_around(double low, double high, double step);

/// A label that stands to the right of the line it belongs to, on one of several rows above the plot.
struct Flag {
  double line_mm;   ///< place of its line
  double width_mm;  ///< of its text
  double text_mm = 0.0;
  std::size_t row = 0;  ///< 0 is next to the plot
};

/// Gives each flag a row and a text place so that no label covers another label or the line of another flag,
/// wherever the room up to `right_mm` allows. Flags keep their order.
void place_flags(std::vector<Flag>& flags, double right_mm);

}  // namespace warmsheet::report
