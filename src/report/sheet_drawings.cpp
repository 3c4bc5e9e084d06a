// SPDX-License-Identifier: MIT
// Drawings of cut sheets. Distances from the sheet's corner stand along its lower and left edges, one mark
// for each outline; marks that would run into each other go on to the next row.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/dimension.h"
#include "nesting/cutting_order.h"
#include "report/canvas.h"
#include "report/drawings.h"
#include "report/note_places.h"

namespace warmsheet::report {
namespace {

constexpr double frame_mm = 5.0;
constexpr double note_mm = 8.0;
constexpr double dimension_mm = 7.0;
constexpr double row_mm = 12.0;  // from one row of dimensions to the next
constexpr double tick_mm = 5.0;
constexpr double gap_between_sheets_mm = 30.0;
/// Printed small, notes keep a least size on paper and so grow on the drawing: at 1 : 4 to about this.
constexpr double widest_note_mm = 11.0;

outline::Box grown(const outline::Box& box, double by_mm) {
  return {{box.low.x_mm - by_mm, box.low.y_mm - by_mm}, {box.high.x_mm + by_mm, box.high.y_mm + by_mm}};
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

void add_dimension_note(Drawing& drawing, outline::Point at, std::string text) {
  drawing.notes.push_back({at, std::move(text), dimension_mm, true, {}, true});
}

/// Marks at one edge: a place along it and what is written there.
class EdgeMarks {
 public:
  /// Equal places share a mark.
  void add(double at_mm, const std::string& number) {
    std::string& numbers = marks_[std::round(at_mm)];
    numbers += (numbers.empty() ? "" : ", ") + number;
  }

  [[nodiscard]] bool empty() const { return marks_.empty(); }

  /// Calls `put(place, text, row)` for each; `room(text)` is what it takes along the edge.
  template <typename Put, typename Room>
  std::size_t lay_out(const Room& room, const Put& put) const {
    std::vector<double> ends;
    for (const auto& [place, numbers] : marks_) {
      const std::string text = fmt::format("{}: {:.0f}", numbers, place);
      const double half = 0.5 * room(text);
      const double begin = place - half;
      const auto free = std::find_if(ends.begin(), ends.end(), [&](double end) { return end <= begin; });
      const auto row = static_cast<std::size_t>(free - ends.begin());
      if (free == ends.end()) ends.push_back(0.0);
      ends[row] = place + half;
      put(place, text, row);
    }
    return ends.size();
  }

 private:
  std::map<double, std::string> marks_;
};

void add_lower_marks(Drawing& drawing, const EdgeMarks& marks, const outline::Box& sheet) {
  marks.lay_out([](const std::string& text) { return text_width(text, widest_note_mm) + 4.0; },
                [&](double place, const std::string& text, std::size_t row) {
                  const double x = sheet.low.x_mm + place;
                  const double end = sheet.low.y_mm - tick_mm - row_mm * static_cast<double>(row);
                  drawing.segments.push_back({{x, sheet.low.y_mm}, {x, end}, Stroke::dimension});
                  add_dimension_note(drawing, {x, end - 0.6 * dimension_mm}, text);
                });
}

void add_left_marks(Drawing& drawing, const EdgeMarks& marks, const outline::Box& sheet) {
  double widest = 0.0;
  marks.lay_out([](const std::string&) { return row_mm; },
                [&](double, const std::string& text, std::size_t) {
                  widest = std::max(widest, text_width(text, widest_note_mm));
                });
  marks.lay_out([](const std::string&) { return row_mm; },
                [&](double place, const std::string& text, std::size_t row) {
                  const double y = sheet.low.y_mm + place;
                  const double end = sheet.low.x_mm - tick_mm - (widest + 4.0) * static_cast<double>(row);
                  drawing.segments.push_back({{sheet.low.x_mm, y}, {end, y}, Stroke::dimension});
                  add_dimension_note(drawing, {end - 0.5 * text_width(text, widest_note_mm) - 1.0, y}, text);
                });
}

/// A line with ends, above the sheet.
void add_span(Drawing& drawing, double from_mm, double to_mm, double y_mm, const char* what) {
  drawing.segments.push_back({{from_mm, y_mm}, {to_mm, y_mm}, Stroke::dimension});
  for (const double x : {from_mm, to_mm})
    drawing.segments.push_back({{x, y_mm - 3.0}, {x, y_mm + 3.0}, Stroke::dimension});
  add_dimension_note(drawing, {0.5 * (from_mm + to_mm), y_mm + dimension_mm},
                     fmt::format("{} {:.0f}", what, to_mm - from_mm));
}

void add_remnant(Drawing& drawing, const plan::Cutting& cutting, std::size_t sheet) {
  const outline::Box& box = cutting.order.stock[cutting.layout.sheets[sheet].stock].shape.box();
  for (const nesting::Remnant& remnant : cutting.remnants) {
    if (remnant.sheet != sheet) continue;
    const bool keep = cutting.worth_keeping(remnant);
    const double from_mm = box.high.x_mm - remnant.length_mm;
    if (keep) drawing.segments.push_back({{from_mm, box.low.y_mm}, {from_mm, box.high.y_mm}, Stroke::offcut});
    if (keep)
      drawing.notes.push_back({{from_mm + remnant.length_mm / 2.0, (box.low.y_mm + box.high.y_mm) / 2.0},
                               "keep",
                               note_mm * 1.2,
                               true,
                               "keep"});
    add_span(drawing, from_mm, box.high.x_mm, box.high.y_mm + tick_mm, keep ? "rest" : "scrap");
  }
  add_span(drawing, box.low.x_mm, box.low.x_mm + cutting.layout.sheets[sheet].used_length_mm,
           box.high.y_mm + tick_mm, "used");
}

void add_spoilt(Drawing& drawing, const nesting::Stock& stock) {
  for (const outline::Polygon& zone : stock.spoilt) {
    drawing.shapes.push_back({zone, Stroke::guide, true});
    drawing.notes.push_back({zone.centroid(), "spoilt", dimension_mm, true, "x"});
  }
}

void add_title(Drawing& drawing, const outline::Box& sheet) {
  drawing.notes.push_back({{sheet.low.x_mm, sheet.high.y_mm + tick_mm + 2.2 * row_mm},
                           drawing.title,
                           note_mm * 1.1,
                           false,
                           {},
                           true});
}

/// The extent takes in the marks round the sheet, so that sheets below each other do not run together.
void settle_extent(Drawing& drawing, const outline::Box& sheet) {
  drawing.extent = grown(sheet, frame_mm);
  const auto take = [&](double x_mm, double y_mm) {
    outline::Box& box = drawing.extent;
    box.low = {std::min(box.low.x_mm, x_mm), std::min(box.low.y_mm, y_mm)};
    box.high = {std::max(box.high.x_mm, x_mm), std::max(box.high.y_mm, y_mm)};
  };
  for (const Drawing::Segment& segment : drawing.segments) {
    take(segment.from.x_mm, segment.from.y_mm);
    take(segment.to.x_mm, segment.to.y_mm);
  }
  for (const Drawing::Note& note : drawing.notes) {
    const double half = note.centred ? 0.5 * text_width(note.text, widest_note_mm) : 0.0;
    take(note.at.x_mm - half, note.at.y_mm - note.size_mm);
    take(note.at.x_mm + half, note.at.y_mm + note.size_mm);
  }
}

template <typename One>
Drawing stacked(std::size_t count, const char* id, const char* title, const char* description,
                const One& one_of) {
  Drawing all;
  all.id = id;
  all.title = title;
  all.description = description;
  double down_mm = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    const Drawing one = one_of(i);
    append_at(all, one, {0.0, -(down_mm + one.extent.high.y_mm)});
    down_mm += one.extent.height_mm() + gap_between_sheets_mm;
  }
  all.extent.high.y_mm = 0.0;
  all.extent.low.y_mm = -std::max(0.0, down_mm - gap_between_sheets_mm);
  return all;
}

/// Sheet, margin, spoilt zones: what both ways of cutting begin with.
Drawing bare_sheet(const nesting::Stock& stock, const char* id, std::size_t sheet, double margin_mm) {
  Drawing drawing;
  drawing.id = id + std::to_string(sheet + 1);
  drawing.title = sheet_title(stock, sheet);
  drawing.shapes.push_back({stock.shape, Stroke::sheet, false});
  add_margin(drawing, stock.shape, margin_mm);
  add_spoilt(drawing, stock);
  return drawing;
}

/// A line on an outline, where the outline lies on the sheet: turned over, then turned, then moved.
outline::Path placed_line(outline::Path line, const nesting::Placement& placement) {
  const double angle = rad_of_deg(placement.angle_deg);
  const double cosine = std::cos(angle);
  const double sine = std::sin(angle);
  for (outline::Point& p : line) {
    const double x = placement.flipped ? -p.x_mm : p.x_mm;
    p = {cosine * x - sine * p.y_mm + placement.move.x_mm, sine * x + cosine * p.y_mm + placement.move.y_mm};
  }
  return line;
}

void add_work_lines(Drawing& drawing, const std::vector<outline::WorkLine>& lines,
                    const nesting::Placement& placement) {
  for (const outline::WorkLine& line : lines)
    for (const outline::Path& part : line.parts)
      drawing.traces.push_back({placed_line(part, placement), stroke_of(line.kind)});
}

}  // namespace

std::string piece_label(const nesting::Order& order, std::size_t index, int copy) {
  const nesting::Piece& piece = order.pieces[index];
  if (piece.copies == 1) return piece.name;
  return piece.name + " " + std::to_string(copy + 1);
}

std::string blank_mark(std::size_t nth) {
  constexpr std::size_t letters = 26;
  std::string mark(1, static_cast<char>('A' + nth % letters));
  return nth < letters ? mark : mark + std::to_string(nth / letters);
}

std::string sheet_title(const nesting::Stock& stock, std::size_t sheet) {
  return fmt::format("Sheet {}{}: {}", sheet + 1, stock.offcut ? ", a kept offcut" : "", stock.name);
}

Drawing sheet_drawing(const plan::Cutting& cutting, double margin_mm, std::size_t sheet) {
  const nesting::Stock& stock = cutting.order.stock[cutting.layout.sheets[sheet].stock];
  const outline::Box& box = stock.shape.box();
  Drawing drawing = bare_sheet(stock, "sheet-", sheet, margin_mm);
  EdgeMarks along;
  EdgeMarks up;
  int number = 0;
  for (const std::size_t index : nesting::cutting_order(cutting.order, cutting.layout, sheet)) {
    const nesting::Placement& placement = cutting.layout.placements[index];
    const std::string brief = std::to_string(++number);
    outline::Polygon shape = nesting::placed_shape(cutting.order, placement);
    along.add(shape.box().low.x_mm - box.low.x_mm, brief);
    up.add(shape.box().low.y_mm - box.low.y_mm, brief);
    if (!cutting.lines.empty()) add_work_lines(drawing, cutting.lines[placement.piece], placement);
    // The cut list has the names beside the numbers.
    const std::string label = brief + ". " + piece_label(cutting.order, placement.piece, placement.copy);
    Drawing::Note note{{}, label, note_mm, true, brief};
    place_inside(note, drawing, shape, widest_note_mm);
    drawing.notes.push_back(std::move(note));
    drawing.shapes.push_back({std::move(shape), Stroke::cut, true});
  }
  drawing.description = fmt::format(
      "Outlines placed on the sheet, seen from above, numbered in the order of cutting{}. At the edges, in "
      "mm from the lower left corner: where each outline begins.",
      drawing.traces.empty() ? "" : ", with their lines to trim, flare and fold along");
  add_lower_marks(drawing, along, box);
  add_left_marks(drawing, up, box);
  add_remnant(drawing, cutting, sheet);
  add_title(drawing, box);
  settle_extent(drawing, box);
  return drawing;
}

Drawing blank_sheet_drawing(const plan::Cutting& cutting, const plan::BlankCutting& blanks,
                            std::size_t sheet) {
  const nesting::Stock& stock = cutting.order.stock[blanks.plan.sheets[sheet].stock];
  Drawing drawing = bare_sheet(stock, "blanks-", sheet, cutting.order.margin_mm);
  drawing.title += ", straight cuts";
  drawing.description =
      "The knife cuts with their numbers in the order of cutting, each right through the part it divides, "
      "and the outlines in their blanks, which have letters.";
  int number = 0;
  for (const nesting::KnifeCut& cut : blanks.cuts) {
    if (cut.sheet != sheet) continue;
    drawing.segments.push_back({cut.from, cut.to, Stroke::cut});
    const std::string text = std::to_string(++number);
    const double near_start = 0.12;
    drawing.notes.push_back({{cut.from.x_mm + near_start * (cut.to.x_mm - cut.from.x_mm),
                              cut.from.y_mm + near_start * (cut.to.y_mm - cut.from.y_mm)},
                             text,
                             note_mm,
                             true,
                             text,
                             true});
  }
  std::size_t lettered = 0;
  for (const plan::LaidBlank& blank : blanks.blanks) {
    if (blank.sheet != sheet) continue;
    drawing.shapes.push_back({blank.outline, Stroke::guide, false});
    const std::string mark = blank_mark(lettered++);
    Drawing::Note note{
        {}, mark + ". " + piece_label(cutting.order, blank.piece, blank.copy), note_mm, true, mark};
    place_inside(note, drawing, blank.outline, widest_note_mm);
    drawing.notes.push_back(std::move(note));
  }
  add_title(drawing, stock.shape.box());
  settle_extent(drawing, stock.shape.box());
  return drawing;
}

Drawing all_sheets_drawing(const plan::Cutting& cutting, double margin_mm) {
  return stacked(cutting.layout.sheets.size(), "sheets", "Cut list",
                 "All used sheets below each other, with the outlines placed on them.",
                 [&](std::size_t i) { return sheet_drawing(cutting, margin_mm, i); });
}

Drawing all_blanks_drawing(const plan::Cutting& cutting, const plan::BlankCutting& blanks) {
  return stacked(blanks.plan.sheets.size(), "blanks", "Blanks by straight cuts",
                 "All used sheets below each other, with the knife cuts and the outlines in their blanks.",
                 [&](std::size_t i) { return blank_sheet_drawing(cutting, blanks, i); });
}

}  // namespace warmsheet::report
