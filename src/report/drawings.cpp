// SPDX-License-Identifier: MIT
#include "report/drawings.h"

#include <algorithm>
#include <utility>

#include "report/note_places.h"

namespace warmsheet::report {
namespace {

constexpr double frame_mm = 5.0;
constexpr double note_mm = 5.0;

outline::Box grown(const outline::Box& box, double by_mm) {
  return {{box.low.x_mm - by_mm, box.low.y_mm - by_mm}, {box.high.x_mm + by_mm, box.high.y_mm + by_mm}};
}

/// A strap goes round the limb from the left border of the outline to the right one: over all of the
/// material, or past what lies between its two outer parts (a thumb's sleeve, a hole).
void add_straps(Drawing& drawing, const outline::Outline& outline) {
  constexpr double overhang_mm = 6.0;
  for (const outline::StrapPlace& strap : outline.straps) {
    const std::vector<outline::Box> on = crossings(outline.shape, strap.y_mm);
    const double left = on.front().low.x_mm - overhang_mm;
    const double right = on.back().high.x_mm + overhang_mm;
    if (on.size() == 1) {
      drawing.segments.push_back({{left, strap.y_mm}, {right, strap.y_mm}, Stroke::strap});
    } else {
      drawing.segments.push_back({{left, strap.y_mm}, {on.front().high.x_mm, strap.y_mm}, Stroke::strap});
      drawing.segments.push_back({{on.back().low.x_mm, strap.y_mm}, {right, strap.y_mm}, Stroke::strap});
    }
    const outline::Box& wider = on.front().width_mm() > on.back().width_mm() ? on.front() : on.back();
    Drawing::Note note{{}, strap.name, note_mm};
    place_over_line(note, drawing, outline.shape, wider, overhang_mm);
    drawing.notes.push_back(std::move(note));
  }
}

void add_lines(Drawing& drawing, const outline::Outline& outline) {
  for (const outline::WorkLine& line : outline.lines)
    for (const outline::Path& part : line.parts) drawing.traces.push_back({part, stroke_of(line.kind)});
}

}  // namespace

Stroke stroke_of(library::LineKind kind) {
  switch (kind) {
    case library::LineKind::trim:
      return Stroke::trim;
    case library::LineKind::flare:
      return Stroke::flare;
    default:
      return Stroke::fold;
  }
}

void append_at(Drawing& all, const Drawing& one, const outline::Point& move) {
  const auto moved = [&](const outline::Point& point) {
    return outline::Point{point.x_mm + move.x_mm, point.y_mm + move.y_mm};
  };
  for (const Drawing::Shape& shape : one.shapes)
    all.shapes.push_back({shape.polygon.placed(0.0, move), shape.stroke, shape.filled});
  for (const Drawing::Segment& segment : one.segments)
    all.segments.push_back({moved(segment.from), moved(segment.to), segment.stroke});
  for (Drawing::Trace trace : one.traces) {
    for (outline::Point& point : trace.points) point = moved(point);
    all.traces.push_back(std::move(trace));
  }
  for (Drawing::Note note : one.notes) {
    note.at = moved(note.at);
    all.notes.push_back(std::move(note));
  }
  const outline::Point low = moved(one.extent.low);
  const outline::Point high = moved(one.extent.high);
  all.extent.low = {std::min(all.extent.low.x_mm, low.x_mm), std::min(all.extent.low.y_mm, low.y_mm)};
  all.extent.high = {std::max(all.extent.high.x_mm, high.x_mm), std::max(all.extent.high.y_mm, high.y_mm)};
}

Drawing outline_drawing(const outline::Outline& outline) {
  Drawing drawing;
  drawing.id = "outline";
  drawing.title = "Outline of " + outline.name;
  // A pattern that lies face down is the other hand's; a file does not say how it lies.
  if (outline.design) drawing.title += ": outer face up, distal end up";
  drawing.description = outline.design
                            ? "The flat outline with its holes, the lines to trim, flare and fold along, and "
                              "the places of its straps."
                            : "The flat outline as it was read, with its holes.";
  drawing.extent = grown(outline.shape.box(), frame_mm);
  drawing.shapes.push_back({outline.shape, Stroke::cut, true});
  for (const outline::UsedMeasure& used : outline.measures)
    drawing.remarks.push_back(say("{}: {}", Label(used.measure.name), used.value));
  add_lines(drawing, outline);
  add_straps(drawing, outline);
  return drawing;
}

}  // namespace warmsheet::report
