// SPDX-License-Identifier: MIT
#include "report/strokes.h"

#include <algorithm>
#include <array>
#include <cstdio>

namespace warmsheet::report {

std::string hex(Colour colour) {
  std::array<char, 8> text{};
  std::snprintf(text.data(), text.size(), "#%02x%02x%02x", unsigned{colour.red}, unsigned{colour.green},
                unsigned{colour.blue});
  return text.data();
}

const std::vector<StrokeStyle>& stroke_styles() {
  static const std::vector<StrokeStyle> styles{
      {Stroke::cut, "cut", "CUT", 7, palette::ink, 0.6, {}, {5.0, 45.0, false}},
      {Stroke::fold, "fold", "FOLD", 5, palette::blue, 0.5, {6.0, 1.5, 1.0, 1.5}, {3.0, 90.0, false}},
      {Stroke::margin, "edge margin", "MARGIN", 8, palette::grey, 0.35, {1.0, 1.5}, {6.0, 0.0, false}},
      {Stroke::sheet, "sheet edge", "SHEET", 7, palette::quiet_ink, 0.9, {10.0, 1.5}, {0.0, 0.0, false}},
      {Stroke::offcut, "offcut to keep", "OFFCUT", 3, palette::green, 0.6, {4.0, 2.0}, {4.0, 135.0, false}},
      {Stroke::strap,
       "strap",
       "STRAP",
       6,
       palette::plum,
       0.5,
       {3.0, 1.0, 1.0, 1.0, 1.0, 1.0},
       {3.0, 45.0, true}},
      {Stroke::dimension, "dimension", "DIMENSION", 7, palette::quiet_ink, 0.25, {}, {7.0, 45.0, true}},
      {Stroke::guide, "guide", "GUIDE", 8, palette::grey, 0.35, {0.6, 2.4}, {7.0, 0.0, true}},
      {Stroke::trim,
       "trim back to here at most",
       "TRIM",
       1,
       palette::rust,
       0.4,
       {9.0, 2.5},
       {8.0, 45.0, false}},
      {Stroke::flare,
       "flare from here to the edge",
       "FLARE",
       4,
       palette::green,
       0.5,
       {1.4, 1.4},
       {8.0, 135.0, false}},
  };
  return styles;
}

const StrokeStyle& style_of(Stroke stroke) {
  return stroke_styles().at(static_cast<std::size_t>(stroke));
}

std::vector<Stroke> strokes_in(const Drawing& drawing) {
  std::vector<Stroke> found;
  for (const StrokeStyle& style : stroke_styles()) {
    const auto is_it = [&](const auto& part) { return part.stroke == style.stroke; };
    const bool occurs = std::any_of(drawing.shapes.begin(), drawing.shapes.end(), is_it) ||
                        std::any_of(drawing.segments.begin(), drawing.segments.end(), is_it) ||
                        std::any_of(drawing.traces.begin(), drawing.traces.end(), is_it);
    if (occurs) found.push_back(style.stroke);
  }
  return found;
}

const CurveStyle& curve_style(std::size_t index) {
  static const std::vector<CurveStyle> styles{
      {palette::ink, {}},          {palette::blue, {5.0, 1.6}},
      {palette::rust, {1.2, 1.2}}, {palette::green, {7.0, 1.4, 1.2, 1.4}},
      {palette::plum, {2.6, 1.0}}, {palette::grey, {9.0, 1.2, 1.0, 1.2, 1.0, 1.2}},
  };
  return styles.at(index % styles.size());
}

}  // namespace warmsheet::report
