// SPDX-License-Identifier: MIT
#include "report/drawings.h"

#include <algorithm>

namespace warmsheet::report {
namespace {

constexpr double frame_mm = 5.0;
constexpr double note_mm = 5.0;

outline::Box grown(const outline::Box& box, double by_mm) {
  return {{box.low.x_mm - by_mm, box.low.y_mm - by_mm}, {box.high.x_mm + by_mm, box.high.y_mm + by_mm}};
}

void add_straps(Drawing& drawing, const outline::Outline& outline) {
  const outline::Box& box = outline.shape.box();
  for (const outline::StrapPlace& strap : outline.straps) {
    drawing.segments.push_back({{box.low.x_mm, strap.y_mm}, {box.high.x_mm, strap.y_mm}, Stroke::strap});
    drawing.notes.push_back(
        {{(box.low.x_mm + box.high.x_mm) / 2.0, strap.y_mm + note_mm / 2.0}, strap.name, note_mm});
  }
}

}  // namespace

Drawing outline_drawing(const outline::Outline& outline) {
  Drawing drawing;
  drawing.id = "outline";
  drawing.title = "Outline of " + outline.name;
  drawing.description =
      "The flat outline seen from the side that faces the skin, distal end up, with its holes and the "
      "places of its straps.";
  drawing.extent = grown(outline.shape.box(), frame_mm);
  drawing.shapes.push_back({outline.shape, Stroke::cut, true});
  add_straps(drawing, outline);
  return drawing;
}

}  // namespace warmsheet::report
