// SPDX-License-Identifier: MIT
// One table for the look of every kind of line, shared by SVG, PDF and DXF, so that a cut looks like a cut in
// all.
#pragma once

#include <string_view>
#include <vector>

#include "report/document.h"
#include "report/palette.h"

namespace warmsheet::report {

/// Parallel lines (and a second set across them) that fill a shape; a spacing of 0 means no hatch.
struct Hatch {
  double spacing_mm;
  double angle_deg;
  bool crossed;
};

/// Sizes are those on paper.
struct StrokeStyle {
  Stroke stroke;
  std::string_view meaning;  ///< for the key of a drawing
  std::string_view layer;    ///< for DXF: capitals, digits and '_'
  int dxf_colour;            ///< AutoCAD colour index; 7 is black on white, white on black
  Colour colour;
  double width_mm;
  std::vector<double> dash_mm;  ///< on, off, on, off ...; empty for a solid line
  Hatch hatch;
};

const std::vector<StrokeStyle>& stroke_styles();
const StrokeStyle& style_of(Stroke stroke);

/// The kinds of line that occur in the drawing, in the order of the table.
std::vector<Stroke> strokes_in(const Drawing& drawing);

/// The looks of the first, second ... curve of a plot, by dash first and colour second.
struct CurveStyle {
  Colour colour;
  std::vector<double> dash_mm;
};
const CurveStyle& curve_style(std::size_t index);

}  // namespace warmsheet::report
