// SPDX-License-Identifier: MIT
#include "report/drawing_picture.h"

#include <algorithm>

#include "base/dimension.h"
#include "report/clean_text.h"
#include "report/strokes.h"

namespace warmsheet::report {
namespace {

// Sizes on paper.
constexpr double frame_mm = 4.0;
constexpr double letter_mm = 3.2;
constexpr double title_letter_mm = 3.7;
constexpr double smallest_note_mm = 2.6;
constexpr double row_mm = 5.5;
constexpr double scale_row_mm = 11.0;
constexpr double sample_mm = 14.0;
constexpr double key_gap_mm = 7.0;
constexpr double label_gap_mm = 2.0;
constexpr double bar_thickness_mm = 1.6;
constexpr double hatch_line_mm = 0.12;
/// Capitals are about 0.7 of the letter size; half of that centres them on a point.
constexpr double half_capital = 0.35;

// The bar, in true millimetres.
constexpr double bar_mm = 100.0;
constexpr double bar_block_mm = 10.0;
constexpr int bar_inches = 4;
static_assert(bar_inches * inch_mm == bar_length_mm);

double note_size(const Drawing::Note& note, int shrink) {
  return std::max(note.size_mm, smallest_note_mm * shrink);
}

void include(outline::Box& box, double x_mm, double y_mm) {
  box.low = {std::min(box.low.x_mm, x_mm), std::min(box.low.y_mm, y_mm)};
  box.high = {std::max(box.high.x_mm, x_mm), std::max(box.high.y_mm, y_mm)};
}

Canvas::Line line_look(Stroke stroke, int shrink) {
  const StrokeStyle& style = style_of(stroke);
  Canvas::Line line{style.colour, style.width_mm * shrink, style.dash_mm};
  for (double& length : line.dash) length *= shrink;
  return line;
}

outline::Ring flipped(outline::Ring ring) {
  for (outline::Point& point : ring) point.y_mm = -point.y_mm;
  return ring;
}

void draw(Canvas& canvas, const Drawing::Shape& shape, int shrink) {
  std::vector<outline::Ring> rings{flipped(shape.polygon.outer())};
  for (const outline::Ring& hole : shape.polygon.holes()) rings.push_back(flipped(hole));
  const StrokeStyle& style = style_of(shape.stroke);
  const Canvas::Line edge = line_look(shape.stroke, shrink);
  const Canvas::Hatching hatching{style.layer,
                                  style.hatch.spacing_mm * shrink,
                                  style.hatch.angle_deg,
                                  style.hatch.crossed,
                                  {style.colour, hatch_line_mm * shrink}};
  const bool hatched = shape.filled && style.hatch.spacing_mm > 0.0;
  canvas.area(rings, hatched ? &hatching : nullptr, &edge);
}

void draw(Canvas& canvas, const Drawing::Note& note, int shrink) {
  const double size = note_size(note, shrink);
  const double y = -note.at.y_mm + (note.centred ? half_capital * size : 0.0);
  const auto anchor = note.centred ? Canvas::Text::Anchor::middle : Canvas::Text::Anchor::start;
  canvas.text(note.text, {note.at.x_mm, y, size, anchor, palette::ink, false, true});
}

}  // namespace

outline::Box whole_box(const Drawing& drawing, int shrink) {
  outline::Box box = drawing.extent;
  for (const Drawing::Shape& shape : drawing.shapes)
    for (const outline::Point& corner : {shape.polygon.box().low, shape.polygon.box().high})
      include(box, corner.x_mm, corner.y_mm);
  for (const Drawing::Segment& segment : drawing.segments)
    for (const outline::Point& end : {segment.from, segment.to}) include(box, end.x_mm, end.y_mm);
  for (const Drawing::Trace& trace : drawing.traces)
    for (const outline::Point& point : trace.points) include(box, point.x_mm, point.y_mm);
  for (const Drawing::Note& note : drawing.notes) {
    const double size = note_size(note, shrink);
    const double width = text_width(note.text, size);
    const double left = note.centred ? note.at.x_mm - width / 2.0 : note.at.x_mm;
    include(box, left, note.at.y_mm - size / 2.0);
    include(box, left + width, note.at.y_mm + size);
  }
  return box;
}

void draw_shapes(Canvas& canvas, const Drawing& drawing, int shrink) {
  for (const Drawing::Shape& shape : drawing.shapes) draw(canvas, shape, shrink);
  for (const Drawing::Segment& segment : drawing.segments)
    canvas.line(segment.from.x_mm, -segment.from.y_mm, segment.to.x_mm, -segment.to.y_mm,
                line_look(segment.stroke, shrink));
  for (const Drawing::Trace& trace : drawing.traces)
    canvas.polyline(flipped(trace.points), line_look(trace.stroke, shrink));
  for (const Drawing::Note& note : drawing.notes) draw(canvas, note, shrink);
}

void draw_bar(Canvas& canvas, double x, double y, double paper) {
  const double thickness = paper * bar_thickness_mm;
  canvas.rectangle(x, y, bar_mm, thickness, palette::ink);
  for (double at = bar_block_mm; at < bar_mm; at += 2.0 * bar_block_mm)
    canvas.rectangle(x + at, y + thickness * 0.25, bar_block_mm, thickness * 0.5, palette::paper);
  const double inches_y = y + thickness + paper * 0.8;
  const Canvas::Line thin{palette::ink, paper * 0.25};
  canvas.line(x, inches_y, x + bar_length_mm, inches_y, thin);
  for (int i = 0; i <= bar_inches; ++i) {
    const double tick = paper * (i % bar_inches == 0 ? 1.6 : 1.0);
    canvas.line(x + i * inch_mm, inches_y, x + i * inch_mm, inches_y + tick, thin);
  }
  canvas.text("100 mm above, 4 in below", {x, inches_y + paper * (1.6 + letter_mm), paper * letter_mm,
                                           Canvas::Text::Anchor::start, palette::quiet_ink});
}

DrawingPicture::DrawingPicture(const Drawing& drawing, int shrink, bool titled)
    : drawing_(drawing), shrink_(shrink), titled_(titled), box_(whole_box(drawing, shrink)) {
  lay_out_key();
}

double DrawingPicture::left() const {
  return box_.low.x_mm - paper(frame_mm);
}
double DrawingPicture::top() const {
  return -box_.high.y_mm - paper(frame_mm);
}

double DrawingPicture::width() const {
  const double title = titled_ ? text_width(drawing_.title, paper(title_letter_mm)) : 0.0;
  const double bar_and_label =
      bar_length_mm + paper(label_gap_mm) + text_width(scale_text(), paper(letter_mm));
  return std::max({box_.width_mm(), bar_and_label, title}) + 2.0 * paper(frame_mm);
}

double DrawingPicture::height() const {
  const double rows = static_cast<double>(key_rows_) + (titled_ ? 1.0 : 0.0);
  return box_.height_mm() + paper(3.0 * frame_mm + scale_row_mm + rows * row_mm);
}

std::string DrawingPicture::scale_text() const {
  if (shrink_ == 1) return "true size, if the bar measures 100 mm";
  return "drawn at 1 : " + std::to_string(shrink_) + ", not for tracing";
}

void DrawingPicture::lay_out_key() {
  double x = 0.0;
  for (const Stroke stroke : strokes_in(drawing_)) {
    const double label = text_width(style_of(stroke).meaning, paper(letter_mm));
    const double needed = paper(sample_mm + label_gap_mm) + label;
    if (x > 0.0 && x + needed > width() - 2.0 * paper(frame_mm)) {
      x = 0.0;
      ++key_rows_;
    }
    key_.push_back({stroke, x, key_rows_});
    x += needed + paper(key_gap_mm);
  }
  if (!key_.empty()) ++key_rows_;
}

void DrawingPicture::draw(Canvas& canvas) const {
  draw_shapes(canvas, drawing_, shrink_);
  double y = -box_.low.y_mm + paper(frame_mm);
  draw_title(canvas, y);
  draw_scale(canvas, y);
  draw_key(canvas, y);
}

void DrawingPicture::draw_title(Canvas& canvas, double& y) const {
  if (!titled_) return;
  canvas.text(drawing_.title, {box_.low.x_mm, y + paper(letter_mm), paper(title_letter_mm),
                               Canvas::Text::Anchor::start, palette::ink, true});
  y += paper(row_mm);
}

void DrawingPicture::draw_scale(Canvas& canvas, double& y) const {
  draw_bar(canvas, box_.low.x_mm, y, paper(1.0));
  canvas.text(scale_text(),
              {box_.low.x_mm + bar_length_mm + paper(label_gap_mm), y + paper(letter_mm), paper(letter_mm)});
  y += paper(scale_row_mm);
}

void DrawingPicture::draw_key(Canvas& canvas, double y) const {
  for (const KeyEntry& entry : key_) {
    const double x = box_.low.x_mm + entry.x;
    const double row_y = y + paper(row_mm) * (static_cast<double>(entry.row) + 0.5);
    canvas.line(x, row_y, x + paper(sample_mm), row_y, line_look(entry.stroke, shrink_));
    canvas.text(style_of(entry.stroke).meaning, {x + paper(sample_mm + label_gap_mm),
                                                 row_y + half_capital * paper(letter_mm), paper(letter_mm)});
  }
}

int shrink_to_fit(const Drawing& drawing, double width_mm, double height_mm) {
  // Furniture of constant size on paper leaves room for the largest drawing (10 m) long before this.
  constexpr int most = 1000;
  for (int shrink = 1; shrink < most; ++shrink) {
    const DrawingPicture picture(drawing, shrink, false);
    if (picture.width_mm() <= width_mm && picture.height_mm() <= height_mm) return shrink;
  }
  return most;
}

}  // namespace warmsheet::report
