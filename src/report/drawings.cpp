// SPDX-License-Identifier: MIT
#include "report/drawings.h"

#include <algorithm>

namespace warmsheet::report {
namespace {

constexpr double frame_mm = 5.0;
constexpr double note_mm = 5.0;
constexpr double gap_between_sheets_mm = 30.0;

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

/// The sheet's rectangle less the edge margin; offcuts of other shapes keep only their edge.
void add_margin(Drawing& drawing, const outline::Polygon& sheet, double margin_mm) {
  const outline::Box inner = grown(sheet.box(), -margin_mm);
  const bool rectangular = sheet.outer().size() == 4 && sheet.holes().empty();
  if (margin_mm <= 0.0 || !rectangular || inner.width_mm() <= 0.0 || inner.height_mm() <= 0.0) return;
  drawing.shapes.push_back(
      {outline::Polygon::make(
           {inner.low, {inner.high.x_mm, inner.low.y_mm}, inner.high, {inner.low.x_mm, inner.high.y_mm}}, {},
           {}),
       Stroke::margin, false});
}

void add_remnant(Drawing& drawing, const plan::Cutting& cutting, std::size_t sheet) {
  const outline::Box& box = cutting.order.stock[cutting.layout.sheets[sheet].stock].shape.box();
  for (const nesting::Remnant& remnant : cutting.remnants) {
    if (remnant.sheet != sheet) continue;
    const double from_mm = box.high.x_mm - remnant.length_mm;
    drawing.segments.push_back({{from_mm, box.low.y_mm}, {from_mm, box.high.y_mm}, Stroke::offcut});
    drawing.notes.push_back(
        {{from_mm + remnant.length_mm / 2.0, (box.low.y_mm + box.high.y_mm) / 2.0}, "keep", note_mm * 1.5});
  }
}

void append(Drawing& all, const Drawing& one, double down_mm) {
  const outline::Point move{0.0, -down_mm};
  for (const Drawing::Shape& shape : one.shapes)
    all.shapes.push_back({shape.polygon.placed(0.0, move), shape.stroke, shape.filled});
  for (Drawing::Segment segment : one.segments) {
    segment.from.y_mm -= down_mm;
    segment.to.y_mm -= down_mm;
    all.segments.push_back(segment);
  }
  for (Drawing::Note note : one.notes) {
    note.at.y_mm -= down_mm;
    all.notes.push_back(std::move(note));
  }
}

}  // namespace

std::string piece_label(const nesting::Order& order, const nesting::Placement& placement) {
  const nesting::Piece& piece = order.pieces[placement.piece];
  if (piece.copies == 1) return piece.name;
  return piece.name + " " + std::to_string(placement.copy + 1);
}

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

Drawing sheet_drawing(const plan::Cutting& cutting, double margin_mm, std::size_t sheet) {
  const nesting::Stock& stock = cutting.order.stock[cutting.layout.sheets[sheet].stock];
  Drawing drawing;
  drawing.id = "sheet-" + std::to_string(sheet + 1);
  drawing.title = "Sheet " + std::to_string(sheet + 1) + ": " + stock.name;
  drawing.description = "Outlines placed on the sheet, seen from above, with the part worth keeping.";
  drawing.extent = grown(stock.shape.box(), frame_mm);
  drawing.shapes.push_back({stock.shape, Stroke::sheet, false});
  add_margin(drawing, stock.shape, margin_mm);
  for (const nesting::Placement& placement : cutting.layout.placements) {
    if (placement.sheet != sheet) continue;
    outline::Polygon shape = nesting::placed_shape(cutting.order, placement);
    drawing.notes.push_back({shape.centroid(), piece_label(cutting.order, placement), note_mm});
    drawing.shapes.push_back({std::move(shape), Stroke::cut, true});
  }
  add_remnant(drawing, cutting, sheet);
  return drawing;
}

Drawing all_sheets_drawing(const plan::Cutting& cutting, double margin_mm) {
  Drawing all;
  all.id = "sheets";
  all.title = "Cut list";
  all.description = "All used sheets below each other, with the outlines placed on them.";
  double down_mm = 0.0;
  for (std::size_t i = 0; i < cutting.layout.sheets.size(); ++i) {
    const Drawing one = sheet_drawing(cutting, margin_mm, i);
    append(all, one, down_mm + one.extent.high.y_mm);
    all.extent.high.x_mm = std::max(all.extent.high.x_mm, one.extent.high.x_mm);
    all.extent.low.x_mm = std::min(all.extent.low.x_mm, one.extent.low.x_mm);
    down_mm += one.extent.height_mm() + gap_between_sheets_mm;
  }
  all.extent.high.y_mm = 0.0;
  all.extent.low.y_mm = -(down_mm - gap_between_sheets_mm);
  return all;
}

}  // namespace warmsheet::report
