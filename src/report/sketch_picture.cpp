// SPDX-License-Identifier: MIT
#include "report/sketch_picture.h"

#include <algorithm>
#include <set>

#include "plan/cautions.h"
#include "report/clean_text.h"
#include "report/value_text.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

// Sizes on paper.
constexpr double title_room_mm = 6.0;
constexpr double title_letter_mm = 3.2;
constexpr double rim_mm = 2.0;
constexpr double sheet_rim_mm = 8.0;
constexpr double sheet_title_mm = 5.0;
constexpr double sheet_title_room_mm = 10.0;
constexpr double caption_letter_mm = 2.6;
constexpr double caption_row_mm = 3.6;
constexpr double column_gap_mm = 6.0;
constexpr std::size_t columns_in_row = 3;

Canvas::Line look_of(Sketch::Pen pen) {
  switch (pen) {
    case Sketch::Pen::limb:
      return {palette::ink, 0.35};
    case Sketch::Pen::mark:
      return {palette::rust, 0.7};
    case Sketch::Pen::hidden:
      return {palette::rust, 0.5, {1.0, 1.0}};
    default:
      return {palette::grey, 0.2};
  }
}

/// Words of a line in rows that fit the width.
std::vector<std::string> wrapped(const std::string& text, double width_mm, double letter_mm) {
  std::vector<std::string> rows{""};
  std::size_t from = 0;
  while (from < text.size()) {
    const std::size_t end = std::min(text.find(' ', from), text.size());
    const std::string word = text.substr(from, end - from);
    const std::string longer = rows.back().empty() ? word : rows.back() + " " + word;
    if (!rows.back().empty() && text_width(longer, letter_mm) > width_mm)
      rows.push_back(word);
    else
      rows.back() = longer;
    from = end + 1;
  }
  return rows;
}

std::string words_of(const Phrase& phrase) {
  std::string words;
  for (const Phrase::Part& part : phrase.parts())
    words += std::holds_alternative<std::string>(part) ? clean(std::get<std::string>(part))
                                                       : marked_value(std::get<Figure>(part));
  return words;
}

}  // namespace

void draw_sketch(Canvas& canvas, const Sketch& sketch, double x, double y) {
  const double room_x = sketch_width_mm - 2.0 * rim_mm;
  const double room_y = sketch_height_mm - title_room_mm - rim_mm;
  const double scale = std::min(room_x / sketch.extent.width_mm(), room_y / sketch.extent.height_mm());
  const double left = x + 0.5 * (sketch_width_mm - scale * sketch.extent.width_mm());
  const auto placed = [&](const outline::Point& point) {
    return outline::Point{left + scale * (point.x_mm - sketch.extent.low.x_mm),
                          y + title_room_mm + scale * (sketch.extent.high.y_mm - point.y_mm)};
  };
  // Bold letters are wider; a long title gets smaller ones.
  const double letter =
      std::min(title_letter_mm, title_letter_mm * room_x / (1.1 * text_width(sketch.title, title_letter_mm)));
  canvas.text(sketch.title, {x + rim_mm, y + title_letter_mm + 0.5, letter, Canvas::Text::Anchor::start,
                             palette::ink, true});
  for (const Sketch::Line& line : sketch.lines) {
    outline::Path points;
    for (const outline::Point& point : line.points) points.push_back(placed(point));
    const Canvas::Line look = look_of(line.pen);
    if (line.closed)
      canvas.area({points}, nullptr, &look);
    else
      canvas.polyline(points, look);
  }
}

SketchSheet::SketchSheet(const std::vector<Sketch>& sketches, std::string_view title)
    : title_(title), height_(sheet_rim_mm + sheet_title_room_mm) {
  double row_height = 0.0;
  for (std::size_t i = 0; i < sketches.size(); ++i) {
    const std::size_t column = i % columns_in_row;
    if (column == 0) {
      height_ += row_height;
      row_height = 0.0;
    }
    std::vector<std::string> caption =
        wrapped(words_of(sketches[i].caption), sketch_width_mm - 2.0 * rim_mm, caption_letter_mm);
    const double tall = sketch_height_mm + (static_cast<double>(caption.size()) + 2.0) * caption_row_mm;
    row_height = std::max(row_height, tall);
    placed_.push_back({&sketches[i], std::move(caption),
                       sheet_rim_mm + static_cast<double>(column) * (sketch_width_mm + column_gap_mm),
                       height_});
  }
  height_ += row_height;
  legend_.emplace_back(plan::measuring_moves_nothing);
  std::set<Basis> seen;
  for (const Sketch& sketch : sketches)
    for (const Figure& figure : sketch.caption.figures()) seen.insert(figure.basis());
  for (const Basis basis : seen)
    legend_.push_back(std::string("[") + basis_mark(basis) + "] " + std::string(basis_word(basis)) + ": " +
                      std::string(basis_meaning(basis)));
  legend_top_ = height_;
  height_ += static_cast<double>(legend_.size()) * caption_row_mm + sheet_rim_mm;
}

double SketchSheet::width_mm() {
  return 2.0 * sheet_rim_mm + columns_in_row * sketch_width_mm + (columns_in_row - 1) * column_gap_mm;
}
double SketchSheet::height_mm() const {
  return height_;
}

void SketchSheet::draw(Canvas& canvas) const {
  canvas.text(title_, {sheet_rim_mm, sheet_rim_mm + sheet_title_mm, sheet_title_mm,
                       Canvas::Text::Anchor::start, palette::ink, true});
  for (const Placed& placed : placed_) {
    draw_sketch(canvas, *placed.sketch, placed.x, placed.y);
    double y = placed.y + sketch_height_mm + caption_row_mm;
    for (const std::string& row : placed.caption) {
      canvas.text(row, {placed.x + rim_mm, y, caption_letter_mm});
      y += caption_row_mm;
    }
  }
  double y = legend_top_;
  for (const std::string& row : legend_) {
    canvas.text(
        row, {sheet_rim_mm + rim_mm, y, caption_letter_mm, Canvas::Text::Anchor::start, palette::quiet_ink});
    y += caption_row_mm;
  }
}

}  // namespace warmsheet::report
