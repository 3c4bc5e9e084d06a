// SPDX-License-Identifier: MIT
// Sketches laid out for paper, one alone or many on a sheet with their captions.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "report/canvas.h"
#include "report/document.h"

namespace warmsheet::report {

inline constexpr double sketch_width_mm = 56.0;
inline constexpr double sketch_height_mm = 62.0;

/// The lines, scaled to the size of a sketch, and the title above them, with the upper left corner at (x, y).
void draw_sketch(Canvas& canvas, const Sketch& sketch, double x, double y);

class SketchSheet {
 public:
  SketchSheet(const std::vector<Sketch>& sketches, std::string_view title);
  [[nodiscard]] static double width_mm();
  [[nodiscard]] double height_mm() const;
  void draw(Canvas& canvas) const;

 private:
  struct Placed {
    const Sketch* sketch;
    std::vector<std::string> caption;
    double x;
    double y;
  };
  std::string title_;
  std::vector<Placed> placed_;
  double height_;
  std::vector<std::string> legend_;  ///< what holds for all, and the marks behind figures
  double legend_top_ = 0.0;
};

}  // namespace warmsheet::report
