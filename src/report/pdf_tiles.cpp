// SPDX-License-Identifier: MIT
// A drawing at true size over many pages. A tile is 190 x 254 mm, the largest that both A4 and Letter take
// inside margins a printer leaves; its lower strip names the page, the rest shows the drawing and overlaps
// its neighbours by 10 mm. A page is trimmed at its left and upper edge and laid on the dashed line of its
// neighbour; diamonds stand there, whole on the page below and half on the page above.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/dimension.h"
#include "report/drawing_picture.h"
#include "report/pdf_writer.h"
#include "report/strokes.h"
#include "report/value_text.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

constexpr double tile_width_mm = 190.0;
constexpr double tile_height_mm = 254.0;
constexpr double strip_mm = 14.0;
constexpr double frame_width_mm = tile_width_mm;
constexpr double frame_height_mm = tile_height_mm - strip_mm;
constexpr double overlap_mm = 10.0;
constexpr double step_x_mm = frame_width_mm - overlap_mm;
constexpr double step_y_mm = frame_height_mm - overlap_mm;
/// Half the thickest line, and a little: nothing of the drawing touches the outer edge of the tiles.
constexpr double rim_mm = 3.0;
/// Nobody tapes more together; a drawing that large is better cut from the DXF file.
constexpr std::size_t most_pages = 64;

// The boxes to measure.
constexpr double box_width_mm = 100.0;
constexpr double box_height_mm = 50.0;
constexpr double box_width_in = 4.0;
constexpr double box_height_in = 2.0;
constexpr double box_line_mm = 0.15;

constexpr double letter_mm = 3.4;
constexpr double small_letter_mm = 2.8;
constexpr double row_mm = 5.0;
constexpr double small_row_mm = 4.0;
/// What stands beside the boxes begins here.
constexpr double side_x_mm = 112.0;
constexpr double sample_mm = 14.0;
constexpr double mark_arm_mm = 4.0;
constexpr double map_height_mm = 100.0;

using Anchor = Canvas::Text::Anchor;
const Canvas::Line thin{palette::quiet_ink, 0.15};
const Canvas::Line dashed{palette::grey, 0.15, {2.0, 2.0}};

/// A box in the canvas's sense: y points down.
struct Area {
  double left;
  double top;
  double width;
  double height;
  [[nodiscard]] double right() const { return left + width; }
  [[nodiscard]] double bottom() const { return top + height; }
};

void outline_box(Canvas& canvas, const Area& area, const Canvas::Line& look) {
  canvas.area({{{area.left, area.top},
                {area.right(), area.top},
                {area.right(), area.bottom()},
                {area.left, area.bottom()}}},
              nullptr, &look);
}

/// Does the segment touch the box? Clipping by Liang and Barsky (ACM Transactions on Graphics 3, 1984).
bool touches(const Area& area, const outline::Point& from, const outline::Point& to) {
  double enter = 0.0;
  double leave = 1.0;
  const auto cut = [&](double direction, double distance) {
    if (direction == 0.0) return distance >= 0.0;
    const double at = distance / direction;
    if (direction < 0.0)
      enter = std::max(enter, at);
    else
      leave = std::min(leave, at);
    return enter <= leave;
  };
  const double dx = to.x_mm - from.x_mm;
  const double dy = to.y_mm - from.y_mm;
  return cut(-dx, from.x_mm - area.left) && cut(dx, area.right() - from.x_mm) &&
         cut(-dy, from.y_mm - area.top) && cut(dy, area.bottom() - from.y_mm);
}

/// Collects what a drawing draws, to ask which tiles need printing.
class Tracer : public Canvas {
 public:
  explicit Tracer(const Area& area) : area_(area) {}
  void line(double x1, double y1, double x2, double y2, const Line&) override { add({x1, y1}, {x2, y2}); }
  void polyline(const std::vector<outline::Point>& points, const Line&) override {
    for (std::size_t i = 1; i < points.size(); ++i) add(points[i - 1], points[i]);
  }
  void area(const std::vector<outline::Ring>& rings, const Hatching*, const Line*) override {
    for (const outline::Ring& ring : rings)
      for (std::size_t i = 0; i < ring.size(); ++i) add(ring[i], ring[(i + 1) % ring.size()]);
  }
  void rectangle(double, double, double, double, Colour) override {}
  void text(std::string_view content, const Text& look) override {
    const double half = text_width(content, look.size) / 2.0;
    const double centre = look.anchor == Text::Anchor::middle ? look.x : look.x + half;
    add({centre - half, look.y}, {centre + half, look.y});
  }
  [[nodiscard]] bool found() const { return found_; }

 private:
  void add(const outline::Point& from, const outline::Point& to) {
    found_ = found_ || touches(area_, from, to);
  }
  Area area_;
  bool found_ = false;
};

class Tiles {
 public:
  Tiles(const Drawing& drawing, Paper paper) : drawing_(drawing), pdf_(drawing.title + ", true size", paper) {
    const outline::Box box = whole_box(drawing, 1);
    const double width = box.width_mm() + 2.0 * rim_mm;
    const double height = box.height_mm() + 2.0 * rim_mm;
    columns_ = count_for(width, step_x_mm);
    rows_ = count_for(height, step_y_mm);
    if (columns_ * rows_ > most_pages) refuse(width, height);
    left_ = box.low.x_mm - rim_mm - (covered(columns_, step_x_mm) - width) / 2.0;
    top_ = -box.high.y_mm - rim_mm - (covered(rows_, step_y_mm) - height) / 2.0;
    find_used();
  }

  std::string write() {
    write_map_page();
    for (std::size_t row = 0; row < rows_; ++row)
      for (std::size_t column = 0; column < columns_; ++column)
        if (used(row, column)) write_tile(row, column);
    return pdf_.take();
  }

 private:
  static std::size_t count_for(double size_mm, double step_mm) {
    return static_cast<std::size_t>(std::max(1.0, std::ceil((size_mm - overlap_mm) / step_mm)));
  }
  static double covered(std::size_t count, double step_mm) {
    return static_cast<double>(count) * step_mm + overlap_mm;
  }

  [[noreturn]] void refuse(double width_mm, double height_mm) const {
    throw Failure(
        Problem{Trouble::usage,
                {},
                fmt::format("the drawing \"{}\" is {:.0f} x {:.0f} mm and would take {} pages at true size; "
                            "at most {} are written",
                            drawing_.title, width_mm, height_mm, columns_ * rows_, most_pages),
                "write SVG or DXF for a large printer or cutter, or print single outlines"});
  }

  [[nodiscard]] Area frame(std::size_t row, std::size_t column) const {
    return {left_ + static_cast<double>(column) * step_x_mm, top_ + static_cast<double>(row) * step_y_mm,
            frame_width_mm, frame_height_mm};
  }

  void find_used() {
    for (std::size_t row = 0; row < rows_; ++row)
      for (std::size_t column = 0; column < columns_; ++column) {
        Tracer tracer(frame(row, column));
        draw_shapes(tracer, drawing_, 1);
        used_.push_back(tracer.found());
      }
  }
  [[nodiscard]] bool used(std::size_t row, std::size_t column) const {
    return used_[row * columns_ + column];
  }
  [[nodiscard]] bool exists(std::size_t row, std::size_t column) const {
    return row < rows_ && column < columns_ && used(row, column);
  }

  /// "A1" is the upper left page.
  static std::string name(std::size_t row, std::size_t column) {
    constexpr std::size_t letters = 26;
    const std::string number = std::to_string(column + 1);
    const char last = static_cast<char>('A' + row % letters);
    return row < letters ? last + number
                         : std::string(1, static_cast<char>('A' + row / letters - 1)) + last + number;
  }

  [[nodiscard]] double margin_x() const { return (pdf_.page_width_mm() - tile_width_mm) / 2.0; }
  [[nodiscard]] double margin_y() const { return (pdf_.page_height_mm() - tile_height_mm) / 2.0; }

  void write_tile(std::size_t row, std::size_t column) {
    pdf_.add_page();
    const Area here = frame(row, column);
    pdf_.place({margin_x(), margin_y(), here.left, here.top, 1.0});
    pdf_.clip(here.left, here.top, here.width, here.height);
    draw_shapes(pdf_, drawing_, 1);
    draw_marks(row, column);
    pdf_.end_clip();
    outline_box(pdf_, here, thin);
    draw_overlaps(row, column);
    pdf_.place({margin_x(), margin_y() + frame_height_mm, 0.0, 0.0, 1.0});
    draw_strip(row, column);
  }

  /// A dashed line where the next page begins, and its name.
  void draw_overlaps(std::size_t row, std::size_t column) {
    const Area here = frame(row, column);
    const double right = here.right() - overlap_mm;
    const double bottom = here.bottom() - overlap_mm;
    if (exists(row, column + 1)) {
      pdf_.line(right, here.top, right, here.bottom(), dashed);
      pdf_.text(name(row, column + 1), {here.right() - overlap_mm / 2.0, here.top + row_mm, small_letter_mm,
                                        Anchor::middle, palette::quiet_ink, false, true});
    }
    if (exists(row + 1, column)) {
      pdf_.line(here.left, bottom, here.right(), bottom, dashed);
      pdf_.text(name(row + 1, column), {here.left + overlap_mm / 2.0, here.bottom() - overlap_mm / 2.0 + 1.0,
                                        small_letter_mm, Anchor::middle, palette::quiet_ink, false, true});
    }
  }

  /// A mark stands on the edge where one page is laid on another: whole on the lower page, half on the upper
  /// one.
  void draw_marks(std::size_t row, std::size_t column) {
    const Area here = frame(row, column);
    // Two marks a seam fix both the place and the turn of a page.
    for (const double share : {0.25, 0.75}) {
      const double y = here.top + share * frame_height_mm;
      const double x = here.left + share * frame_width_mm;
      if (exists(row, column + 1)) draw_mark(here.right() - overlap_mm, y);
      if (column > 0 && exists(row, column - 1)) draw_mark(here.left, y);
      if (exists(row + 1, column)) draw_mark(x, here.bottom() - overlap_mm);
      if (row > 0 && exists(row - 1, column)) draw_mark(x, here.top);
    }
  }

  void draw_mark(double x, double y) {
    const Canvas::Line look{palette::ink, 0.25};
    constexpr double arm = mark_arm_mm;
    pdf_.line(x - arm, y, x + arm, y, look);
    pdf_.line(x, y - arm, x, y + arm, look);
    pdf_.area({{{x - arm, y}, {x, y - arm}, {x + arm, y}, {x, y + arm}}}, nullptr, &look);
  }

  void draw_strip(std::size_t row, std::size_t column) {
    draw_bar(pdf_, 0.0, 3.0, 1.0);
    const double x = bar_length_mm + 6.0;
    pdf_.text("Page " + name(row, column), {x, 6.5, letter_mm * 1.3, Anchor::start, palette::ink, true});
    pdf_.text(fitting(drawing_.title, tile_width_mm - x),
              {x, 11.0, small_letter_mm, Anchor::start, palette::quiet_ink});
  }

  [[nodiscard]] std::string fitting(std::string text, double width_mm) const {
    while (!text.empty() && pdf_.exact_width(text, small_letter_mm, false) > width_mm) text.pop_back();
    return text;
  }

  void write_map_page() {
    pdf_.add_page();
    pdf_.place({margin_x(), margin_y(), 0.0, 0.0, 1.0});
    double y = row_mm;
    pdf_.text(fitting(drawing_.title, tile_width_mm / 2.0),
              {0.0, y, letter_mm * 1.6, Anchor::start, palette::ink, true});
    y += 2.0 * row_mm;
    for (const char* line :
         {"1. Print at actual size (100 %). Turn off \"fit to page\" and anything like it.",
          "2. Measure one of the boxes with a ruler. If it is not right, do not use any of these pages.",
          "3. Trim each page along the left and upper side of its frame, lay it on the dashed line of the "
          "page beside or",
          "    above it so that the half diamonds become whole ones, and tape. Each bar must measure 100 mm "
          "too.",
          "4. A pattern is no plan: read the cautions of the bench plan before you heat any sheet."}) {
      pdf_.text(line, {0.0, y, letter_mm});
      y += row_mm;
    }
    draw_boxes(y + row_mm / 2.0);
    draw_remarks(draw_key(y + row_mm / 2.0));
    draw_map(tile_height_mm - map_height_mm);
  }

  void draw_boxes(double y) {
    const Canvas::Line look{palette::ink, box_line_mm};
    const Area metric{0.0, y, box_width_mm, box_height_mm};
    outline_box(pdf_, metric, look);
    pdf_.text("100 mm wide, 50 mm high",
              {box_width_mm / 2.0, y + box_height_mm / 2.0, letter_mm, Anchor::middle});
    const Area inches{0.0, metric.bottom() + row_mm, box_width_in * inch_mm, box_height_in * inch_mm};
    outline_box(pdf_, inches, look);
    pdf_.text("4 in wide, 2 in high",
              {inches.width / 2.0, inches.top + inches.height / 2.0, letter_mm, Anchor::middle});
  }

  /// The looks of the lines, beside the boxes; returns where it ends.
  double draw_key(double y) {
    pdf_.text("Lines", {side_x_mm, y + letter_mm, letter_mm, Anchor::start, palette::ink, true});
    y += row_mm + letter_mm / 2.0;
    for (const Stroke stroke : strokes_in(drawing_)) {
      const StrokeStyle& style = style_of(stroke);
      pdf_.line(side_x_mm, y, side_x_mm + sample_mm, y, {style.colour, style.width_mm, style.dash_mm});
      pdf_.text(style.meaning, {side_x_mm + sample_mm + 2.0, y + letter_mm / 3.0, letter_mm});
      y += row_mm;
    }
    return y;
  }

  void draw_remarks(double y) {
    if (drawing_.remarks.empty()) return;
    y += row_mm / 2.0;
    pdf_.text("Measures", {side_x_mm, y + letter_mm, letter_mm, Anchor::start, palette::ink, true});
    y += row_mm + letter_mm;
    std::set<Basis> seen;
    for (const Phrase& remark : drawing_.remarks) {
      for (const Figure& figure : remark.figures()) seen.insert(figure.basis());
      small_row(plain_words(remark), y);
    }
    for (const Basis basis : seen)
      small_row(std::string("[") + basis_mark(basis) + "] " + std::string(basis_word(basis)), y);
  }

  void small_row(const std::string& text, double& y) {
    pdf_.text(fitting(text, tile_width_mm - side_x_mm),
              {side_x_mm, y, small_letter_mm, Anchor::start, palette::quiet_ink});
    y += small_row_mm;
  }

  static std::string plain_words(const Phrase& phrase) {
    std::string words;
    for (const Phrase::Part& part : phrase.parts())
      words += std::holds_alternative<std::string>(part) ? std::get<std::string>(part)
                                                         : marked_value(std::get<Figure>(part));
    return words;
  }

  void draw_map(double y) {
    const double width = covered(columns_, step_x_mm);
    const double height = covered(rows_, step_y_mm);
    const double room = map_height_mm - 2.0 * row_mm;
    const double scale = std::min(tile_width_mm / width, room / height);
    pdf_.text(map_caption(), {0.0, y + row_mm, letter_mm, Anchor::start, palette::ink, true});
    pdf_.place({margin_x(), margin_y() + y + 2.0 * row_mm, left_, top_, scale});
    const double paper = 1.0 / scale;
    for (std::size_t row = 0; row < rows_; ++row)
      for (std::size_t column = 0; column < columns_; ++column)
        if (used(row, column)) outline_box(pdf_, frame(row, column), {palette::rule, 0.2 * paper});
    draw_outlines(paper);
    for (std::size_t row = 0; row < rows_; ++row)
      for (std::size_t column = 0; column < columns_; ++column) {
        const Area here = frame(row, column);
        const std::string label = used(row, column) ? name(row, column) : "empty";
        pdf_.text(label, {here.left + here.width / 2.0, here.top + here.height / 2.0, letter_mm * paper,
                          Anchor::middle, palette::ink, used(row, column), true});
      }
  }

  [[nodiscard]] std::string map_caption() const {
    const auto pages = static_cast<std::size_t>(std::count(used_.begin(), used_.end(), true));
    return "Map of the pages (not to scale): " + std::to_string(rows_) + (rows_ == 1 ? " row, " : " rows, ") +
           std::to_string(columns_) + (columns_ == 1 ? " column, " : " columns, ") + std::to_string(pages) +
           (pages == 1 ? " page after this one" : " pages after this one");
  }

  void draw_outlines(double paper) {
    for (const Drawing::Shape& shape : drawing_.shapes) {
      outline::Ring ring = shape.polygon.outer();
      for (outline::Point& point : ring) point.y_mm = -point.y_mm;
      const Canvas::Line look{palette::ink, 0.2 * paper};
      pdf_.area({ring}, nullptr, &look);
    }
  }

  const Drawing& drawing_;
  PdfWriter pdf_;
  std::size_t columns_ = 1;
  std::size_t rows_ = 1;
  double left_ = 0.0;
  double top_ = 0.0;
  std::vector<bool> used_;
};

}  // namespace

std::string to_pdf_tiles(const Drawing& drawing, Paper paper) {
  return Tiles(drawing, paper).write();
}

}  // namespace warmsheet::report
