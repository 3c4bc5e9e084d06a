// SPDX-License-Identifier: MIT
// What a picture is drawn on. Pictures are laid out once, in user units with y pointing down, and land in SVG
// and PDF.
#pragma once

#include <string_view>
#include <vector>

#include "outline/polygon.h"
#include "report/palette.h"

namespace warmsheet::report {

class Canvas {
 public:
  struct Line {
    Colour colour;
    double width;
    std::vector<double> dash = {};
  };
  struct Hatching {
    std::string_view name;  ///< one look a name
    double spacing;
    double angle_deg;
    bool crossed;
    Line look;
  };
  struct Text {
    double x;
    double y;  ///< of the baseline
    double size;
    enum class Anchor { start, middle, end } anchor = Anchor::start;
    Colour colour = palette::ink;
    bool bold = false;
    bool halo = false;  ///< a white rim, for text on lines
  };

  Canvas() = default;
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;
  virtual ~Canvas() = default;

  virtual void line(double x1, double y1, double x2, double y2, const Line& look) = 0;
  virtual void polyline(const std::vector<outline::Point>& points, const Line& look) = 0;
  /// Closed rings, filled by the even-odd rule; either pointer may be null.
  virtual void area(const std::vector<outline::Ring>& rings, const Hatching* hatching, const Line* edge) = 0;
  virtual void rectangle(double x, double y, double width, double height, Colour fill) = 0;
  virtual void text(std::string_view content, const Text& look) = 0;
};

/// About how wide a line of text comes out in a common sans-serif face.
double text_width(std::string_view text, double size);

}  // namespace warmsheet::report
