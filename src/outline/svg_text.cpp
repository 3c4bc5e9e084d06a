// SPDX-License-Identifier: MIT
#include "outline/svg_text.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <cmath>
#include <string>
#include <utility>

#include "base/dimension.h"
#include "base/text.h"

namespace warmsheet::outline {
namespace {

constexpr std::size_t most_echoed = 24;

bool is_space(char c) {
  return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// Reads numbers as SVG writes them: "1.5.5-3e2" is three of them, and "1a1 1 0 0110 10" has flags without
/// gaps.
class Scanner {
 public:
  Scanner(std::string_view text, const Place& place, std::string_view what)
      : text_(text), place_(place), what_(what) {}

  [[noreturn]] void refuse(std::string_view wanted) const {
    const std::string_view rest = text_.substr(at_);
    const std::string seen = rest.empty() ? "its end" : fmt::format("'{}'", clip(rest, most_echoed));
    throw Failure(
        Problem{Trouble::data, place_,
                fmt::format("{}: expected {} at character {}, saw {}", what_, wanted, at_ + 1, seen),
                "export the drawing again as plain SVG"});
  }

  void skip_space() {
    while (at_ < text_.size() && is_space(text_[at_])) ++at_;
  }
  /// White space with at most one comma in it.
  void skip_gap() {
    skip_space();
    if (at_ < text_.size() && text_[at_] == ',') ++at_;
    skip_space();
  }
  bool at_end() {
    skip_space();
    return at_ == text_.size();
  }
  [[nodiscard]] char peek() const { return at_ < text_.size() ? text_[at_] : '\0'; }
  char take() { return text_[at_++]; }
  bool accept(char c) {
    if (peek() != c) return false;
    ++at_;
    return true;
  }
  [[nodiscard]] bool number_follows() const {
    const char c = peek();
    return is_digit(c) || c == '-' || c == '+' || c == '.';
  }

  double number() {
    skip_gap();
    std::size_t from = at_;
    if (peek() == '+') ++from;  // from_chars takes no plus sign
    double value = 0.0;
    const char* end = text_.data() + text_.size();
    const auto read = std::from_chars(text_.data() + from, end, value);
    // from_chars also takes "inf" and "nan", which are no SVG numbers.
    if (!number_follows() || read.ec != std::errc() || !std::isfinite(value)) refuse("a number");
    at_ = static_cast<std::size_t>(read.ptr - text_.data());
    return value;
  }

  bool flag() {
    skip_gap();
    if (accept('0')) return false;
    if (accept('1')) return true;
    refuse("0 or 1");
  }

  std::string_view word() {
    const std::size_t from = at_;
    while (is_letter(peek())) ++at_;
    return text_.substr(from, at_ - from);
  }
  [[nodiscard]] std::string_view rest() const { return text_.substr(at_); }

 private:
  std::string_view text_;
  Place place_;
  std::string_view what_;
  std::size_t at_ = 0;
};

class PathReader {
 public:
  PathReader(std::string_view data, const Place& place, Pen& pen)
      : scan_(data, place, "path data"), pen_(pen) {}

  void draw() {
    while (!scan_.at_end()) {
      if (!is_letter(scan_.peek())) scan_.refuse("a path command (M L H V C S Q T A Z)");
      const char letter = scan_.peek();
      if (!begun_ && letter != 'M' && letter != 'm') scan_.refuse("M at the start of a path");
      command(letter);
    }
    pen_.lift();
  }

 private:
  void command(char letter) {
    relative_ = letter >= 'a';
    const char upper = relative_ ? static_cast<char>(letter - 'a' + 'A') : letter;
    if (std::string_view("MLHVCSQTAZ").find(upper) == std::string_view::npos)
      scan_.refuse("a path command (M L H V C S Q T A Z)");
    scan_.take();
    if (upper == 'Z') {
      pen_.close();
      previous_ = 'Z';
      return;
    }
    bool first = true;
    do {  // further arguments repeat the command; after M they mean L
      segment(upper == 'M' && !first ? 'L' : upper);
      first = false;
      scan_.skip_gap();
    } while (scan_.number_follows());
  }

  void segment(char upper) {
    switch (upper) {
      case 'M':
        pen_.move_to(point());
        begun_ = true;
        break;
      case 'L':
        pen_.line_to(point());
        break;
      case 'H':
        pen_.line_to({coordinate(pen_.at().x_mm), pen_.at().y_mm});
        break;
      case 'V':
        pen_.line_to({pen_.at().x_mm, coordinate(pen_.at().y_mm)});
        break;
      case 'A':
        arc();
        break;
      default:
        curve(upper);
    }
    previous_ = upper;
  }

  void curve(char upper) {
    if (upper == 'C' || upper == 'S') {
      const Point first = upper == 'C' ? point() : mirrored("CS");
      const Point second = point();
      const Point to = point();
      control_ = second;
      pen_.cubic_to(first, second, to);
    } else {
      const Point control = upper == 'Q' ? point() : mirrored("QT");
      const Point to = point();
      control_ = control;
      pen_.quadratic_to(control, to);
    }
  }

  void arc() {
    const double rx = scan_.number();
    const double ry = scan_.number();
    const double tilt = rad_of_deg(scan_.number());
    const bool large = scan_.flag();
    const bool sweep = scan_.flag();
    pen_.arc_to(rx, ry, tilt, large, sweep, point());
  }

  double coordinate(double from) { return scan_.number() + (relative_ ? from : 0.0); }
  Point point() {
    const double x = coordinate(pen_.at().x_mm);
    return {x, coordinate(pen_.at().y_mm)};
  }
  /// The last control point seen from the other side, if the last segment was of the same kind.
  [[nodiscard]] Point mirrored(std::string_view kinds) const {
    if (kinds.find(previous_) == std::string_view::npos) return pen_.at();
    return {2.0 * pen_.at().x_mm - control_.x_mm, 2.0 * pen_.at().y_mm - control_.y_mm};
  }

  Scanner scan_;
  Pen& pen_;
  bool relative_ = false;
  bool begun_ = false;
  char previous_ = 'M';
  Point control_;
};

Affine turn(double degrees) {
  const double c = std::cos(rad_of_deg(degrees));
  const double s = std::sin(rad_of_deg(degrees));
  return {c, s, -s, c, 0.0, 0.0};
}

Affine shift(double x, double y) {
  return {1.0, 0.0, 0.0, 1.0, x, y};
}

std::optional<Affine> one_transform(std::string_view name, const std::vector<double>& v) {
  const std::size_t n = v.size();
  if (name == "matrix" && n == 6) return Affine{v[0], v[1], v[2], v[3], v[4], v[5]};
  if (name == "translate" && (n == 1 || n == 2)) return shift(v[0], n == 2 ? v[1] : 0.0);
  if (name == "scale" && (n == 1 || n == 2)) return Affine{v[0], 0.0, 0.0, n == 2 ? v[1] : v[0], 0.0, 0.0};
  if (name == "rotate" && n == 1) return turn(v[0]);
  if (name == "rotate" && n == 3) return shift(v[1], v[2]).after(turn(v[0])).after(shift(-v[1], -v[2]));
  if (name == "skewX" && n == 1) return Affine{1.0, 0.0, std::tan(rad_of_deg(v[0])), 1.0, 0.0, 0.0};
  if (name == "skewY" && n == 1) return Affine{1.0, std::tan(rad_of_deg(v[0])), 0.0, 1.0, 0.0, 0.0};
  return std::nullopt;
}

}  // namespace

void draw_svg_path(std::string_view data, const Place& place, Pen& pen) {
  PathReader(data, place, pen).draw();
}

Affine parse_svg_transform(std::string_view text, const Place& place) {
  Scanner scan(text, place, "transform");
  Affine all;
  while (!scan.at_end()) {
    const std::string_view name = scan.word();
    scan.skip_space();
    if (!scan.accept('(')) scan.refuse("a transform such as translate(10 20)");
    std::vector<double> values;
    scan.skip_space();
    while (scan.peek() != ')') {
      values.push_back(scan.number());
      scan.skip_space();
    }
    scan.accept(')');
    const auto one = one_transform(name, values);
    if (!one)
      scan.refuse("matrix, translate, scale, rotate, skewX or skewY with its numbers before this place");
    all = all.after(*one);
    scan.skip_gap();
  }
  return all;
}

std::vector<double> parse_svg_numbers(std::string_view text, const Place& place) {
  Scanner scan(text, place, "list of points");
  std::vector<double> values;
  while (!scan.at_end()) values.push_back(scan.number());
  return values;
}

SvgLength parse_svg_length(std::string_view text, const Place& place) {
  Scanner scan(text, place, "length");
  scan.skip_space();
  const double number = scan.number();
  return {number, trim(scan.rest())};
}

std::optional<double> metres_of_svg_unit(std::string_view unit) {
  constexpr std::array<std::pair<std::string_view, double>, 6> table{{{"mm", m_per_mm},
                                                                      {"cm", 1e-2},
                                                                      {"in", inch_m},
                                                                      {"pt", inch_m / 72.0},
                                                                      {"pc", inch_m / 6.0},
                                                                      {"Q", 0.25 * m_per_mm}}};
  for (const auto& [name, metres] : table)
    if (unit == name) return metres;
  return std::nullopt;
}

}  // namespace warmsheet::outline
