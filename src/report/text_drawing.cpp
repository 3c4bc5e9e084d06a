// SPDX-License-Identifier: MIT
// Every character is a cell of 2 x 4 dots, which is what a Unicode Braille pattern shows and what makes dots
// about square, since a character of a terminal is about twice as high as it is wide.
#include "report/text_drawing.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "report/clean_text.h"
#include "report/strokes.h"

namespace warmsheet::report {
namespace {

constexpr std::size_t dots_across = 2;
constexpr std::size_t dots_down = 4;

/// U+2800 and up: the order of the dots in a Braille pattern (Unicode 15, section 21.1).
constexpr unsigned bit_of[dots_down][dots_across] = {{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}};

std::string braille(unsigned dots) {
  const unsigned code = 0x2800 + dots;
  return {static_cast<char>(0xE0 | (code >> 12)), static_cast<char>(0x80 | ((code >> 6) & 0x3F)),
          static_cast<char>(0x80 | (code & 0x3F))};
}

/// The ASCII sign most like the dots.
char nearest_sign(unsigned dots) {
  const auto row = [&](std::size_t r) { return (dots & (bit_of[r][0] | bit_of[r][1])) != 0; };
  const int rows = int{row(0)} + int{row(1)} + int{row(2)} + int{row(3)};
  if (rows == 0) return ' ';
  const bool left_above = (dots & (bit_of[0][0] | bit_of[1][0])) != 0;
  const bool left_below = (dots & (bit_of[2][0] | bit_of[3][0])) != 0;
  const bool right_above = (dots & (bit_of[0][1] | bit_of[1][1])) != 0;
  const bool right_below = (dots & (bit_of[2][1] | bit_of[3][1])) != 0;
  if (rows >= 3) {
    if (left_above && right_below && !right_above && !left_below) return '\\';
    if (right_above && left_below && !left_above && !right_below) return '/';
    return left_above && right_above && left_below && right_below ? '+' : '|';
  }
  if (!row(2) && !row(3)) return row(1) ? '-' : '\'';
  if (!row(0) && !row(1)) return row(2) ? '-' : '.';
  return '-';
}

class Raster {
 public:
  Raster(const outline::Box& box, std::size_t width) : box_(box), columns_(width) {
    const double across = std::max(box.width_mm(), 1e-9);
    mm_per_dot_ = across / static_cast<double>(columns_ * dots_across - 1);
    const auto dots = static_cast<std::size_t>(std::ceil(box.height_mm() / mm_per_dot_)) + 1;
    rows_ = (dots + dots_down - 1) / dots_down;
    dots_.assign(columns_ * rows_, 0);
    letters_.assign(columns_ * rows_, '\0');
  }

  void line(const outline::Point& from, const outline::Point& to) {
    const double length = std::hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm);
    const int steps = 1 + static_cast<int>(2.0 * length / mm_per_dot_);
    for (int k = 0; k <= steps; ++k) {
      const double t = static_cast<double>(k) / steps;
      dot({from.x_mm + t * (to.x_mm - from.x_mm), from.y_mm + t * (to.y_mm - from.y_mm)});
    }
  }

  /// Two dots, two gaps: no edge to cut, whatever kind of line it is.
  void dashes(const outline::Path& path) {
    constexpr double dots = 2.0;
    double walked = 0.0;  // dots
    for (std::size_t i = 1; i < path.size(); ++i) {
      const outline::Point& from = path[i - 1];
      const double dx = path[i].x_mm - from.x_mm;
      const double dy = path[i].y_mm - from.y_mm;
      const double length = std::hypot(dx, dy) / mm_per_dot_;
      for (double at = 0.0; at < length; at += 0.5)
        if (std::fmod(walked + at, 2.0 * dots) < dots)
          dot({from.x_mm + at / length * dx, from.y_mm + at / length * dy});
      walked += length;
    }
  }

  void ring(const outline::Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) line(ring[i], ring[(i + 1) % ring.size()]);
  }

  /// False if it would hide something.
  bool write(const std::string& text, const Drawing::Note& note) {
    const std::size_t length = text.size();
    if (length == 0) return false;
    const double middle = (note.at.x_mm - box_.low.x_mm) / mm_per_dot_ / dots_across;
    const double first = note.centred ? middle - static_cast<double>(length) / 2.0 : middle;
    const double row = (box_.high.y_mm - note.at.y_mm) / mm_per_dot_ / dots_down;
    if (first < 0.0 || first + static_cast<double>(length) > static_cast<double>(columns_)) return false;
    if (row < 0.0 || row >= static_cast<double>(rows_)) return false;
    const std::size_t at = static_cast<std::size_t>(row) * columns_ + static_cast<std::size_t>(first);
    for (std::size_t k = 0; k < length; ++k)
      if (dots_[at + k] != 0 || letters_[at + k] != '\0') return false;
    std::copy(text.begin(), text.end(), letters_.begin() + static_cast<std::ptrdiff_t>(at));
    return true;
  }

  [[nodiscard]] std::vector<std::string> lines(TextPictures signs) const {
    std::vector<std::string> lines;
    for (std::size_t row = 0; row < rows_; ++row) {
      std::string line;
      for (std::size_t column = 0; column < columns_; ++column) line += sign(row * columns_ + column, signs);
      line.erase(line.find_last_not_of(' ') + 1);
      lines.push_back(std::move(line));
    }
    return lines;
  }

 private:
  void dot(const outline::Point& at) {
    const auto place = [&](double mm, std::size_t most) {
      return std::min(static_cast<std::size_t>(std::max(0.0, mm / mm_per_dot_ + 0.5)), most - 1);
    };
    const std::size_t x = place(at.x_mm - box_.low.x_mm, columns_ * dots_across);
    const std::size_t y = place(box_.high.y_mm - at.y_mm, rows_ * dots_down);
    dots_[y / dots_down * columns_ + x / dots_across] |= bit_of[y % dots_down][x % dots_across];
  }

  [[nodiscard]] std::string sign(std::size_t cell, TextPictures signs) const {
    if (letters_[cell] != '\0') return {letters_[cell]};
    if (dots_[cell] == 0) return " ";
    return signs == TextPictures::utf8 ? braille(dots_[cell]) : std::string(1, nearest_sign(dots_[cell]));
  }

  outline::Box box_;
  std::size_t columns_;
  std::size_t rows_ = 0;
  double mm_per_dot_ = 1.0;
  std::vector<unsigned> dots_;
  std::vector<char> letters_;
};

void include(outline::Box& box, const outline::Box& other) {
  box.low = {std::min(box.low.x_mm, other.low.x_mm), std::min(box.low.y_mm, other.low.y_mm)};
  box.high = {std::max(box.high.x_mm, other.high.x_mm), std::max(box.high.y_mm, other.high.y_mm)};
}

/// Margins and flares lie so near the edge that their dots would only thicken it.
bool shown(Stroke stroke) {
  return stroke != Stroke::margin && stroke != Stroke::dimension && stroke != Stroke::flare;
}

/// What the dashes stand for; empty if there are none.
std::string dash_key(const Drawing& drawing) {
  std::string meanings;
  for (const StrokeStyle& style : stroke_styles()) {
    const bool dashed = shown(style.stroke) && std::any_of(drawing.traces.begin(), drawing.traces.end(),
                                                           [&](const Drawing::Trace& trace) {
                                                             return trace.stroke == style.stroke;
                                                           });
    if (dashed) meanings += (meanings.empty() ? "- - -  " : ", ") + std::string(style.meaning);
  }
  return meanings;
}

outline::Box shown_box(const Drawing& drawing) {
  std::optional<outline::Box> box;
  for (const Drawing::Shape& shape : drawing.shapes) {
    if (!shown(shape.stroke)) continue;
    if (box)
      include(*box, shape.polygon.box());
    else
      box = shape.polygon.box();
  }
  return box.value_or(drawing.extent);
}

}  // namespace

std::vector<std::string> text_drawing(const Drawing& drawing, std::size_t width, TextPictures signs) {
  Raster raster(shown_box(drawing), width);
  for (const Drawing::Shape& shape : drawing.shapes) {
    if (!shown(shape.stroke)) continue;
    raster.ring(shape.polygon.outer());
    for (const outline::Ring& hole : shape.polygon.holes()) raster.ring(hole);
  }
  for (const Drawing::Segment& segment : drawing.segments)
    if (shown(segment.stroke)) raster.line(segment.from, segment.to);
  for (const Drawing::Trace& trace : drawing.traces)
    if (shown(trace.stroke)) raster.dashes(trace.points);
  for (const Drawing::Note& note : drawing.notes) {
    if (note.dimension) continue;
    // Letters are cells here: anything but plain ASCII has no place in the raster.
    const auto plain = [](const std::string& text) {
      return std::all_of(text.begin(), text.end(), [](char c) { return c >= ' ' && c <= '~'; });
    };
    const std::string text = clean(note.text);
    if (!plain(text) || !raster.write(text, note)) raster.write(note.brief, note);
  }
  std::vector<std::string> lines = raster.lines(signs);
  if (const std::string key = dash_key(drawing); !key.empty()) lines.push_back(key);
  return lines;
}

}  // namespace warmsheet::report
