// SPDX-License-Identifier: MIT
// Points, one in a line: an optional head such as "x_mm,y_mm", then pairs of numbers. A blank line ends a
// ring. Lines that begin with '#' are remarks.
#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <utility>
#include <vector>

#include "base/dimension.h"
#include "base/text.h"
#include "outline/outline.h"
#include "outline/readers.h"
#include "outline/ring_nesting.h"

namespace warmsheet::outline {
namespace {

constexpr std::size_t most_echoed = 60;

std::vector<std::string_view> fields_of(std::string_view line) {
  const char separator = line.find(';') != std::string_view::npos    ? ';'
                         : line.find('\t') != std::string_view::npos ? '\t'
                                                                     : ',';
  std::vector<std::string_view> fields;
  while (true) {
    const std::size_t end = line.find(separator);
    fields.push_back(trim(line.substr(0, end)));
    if (end == std::string_view::npos) return fields;
    line.remove_prefix(end + 1);
  }
}

std::optional<double> number(std::string_view text) {
  if (text.starts_with('+')) text.remove_prefix(1);
  double value = 0.0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size() || !std::isfinite(value))
    return std::nullopt;
  return value;
}

class CsvReader {
 public:
  CsvReader(std::string_view text, const std::string& file, const ReadOptions& options)
      : rest_(without_byte_order_mark(text)), place_{file, 0, 0}, options_(options), budget_(place_) {
    if (rest_.starts_with("\xFF\xFE") || rest_.starts_with("\xFE\xFF"))
      refuse("the file is in UTF-16", "save it as CSV in UTF-8");
  }

  std::vector<PlacedRing> read() {
    bool first = true;
    while (!rest_.empty()) {
      const std::string_view line = next_line();
      if (line.starts_with('#')) continue;
      if (line.empty())
        end_ring();
      else if (!first || !read_head(line))
        read_point(line);
      first = first && line.empty();
    }
    end_ring();
    return std::move(rings_);
  }

 private:
  [[noreturn]] void refuse(std::string message, std::string hint) const {
    throw Failure(Problem{Trouble::data, place_, std::move(message), std::move(hint)});
  }

  std::string_view next_line() {
    ++place_.line;
    const std::size_t end = rest_.find('\n');
    const std::string_view line = trim(rest_.substr(0, end));
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    return line;
  }

  /// Takes the line if it names columns.
  bool read_head(std::string_view line) {
    const auto fields = fields_of(line);
    if (fields.front().empty() || (fields.front().front() != 'x' && fields.front().front() != 'X'))
      return false;
    const auto unit_of = [&](std::string_view field, char axis) {
      const bool named = !field.empty() && (field.front() == axis || field.front() == axis - 'a' + 'A');
      if (!named || (field.size() > 1 && field[1] != '_')) refuse_head(line);
      return field.size() > 2 ? field.substr(2) : std::string_view();
    };
    if (fields.size() != 2) refuse_head(line);
    const std::string_view unit = unit_of(fields[0], 'x');
    if (unit != unit_of(fields[1], 'y')) refuse_head(line);
    if (unit.empty()) return true;
    const Unit* found = find_unit(Dimension::length, unit);
    if (found == nullptr)
      refuse(fmt::format("'{}' is no unit of length", clip(unit, most_echoed)),
             fmt::format("name the columns for example x_mm,y_mm; units: {}", unit_list(Dimension::length)));
    stated_mm_ = found->to_si(1.0) * mm_per_m;
    return true;
  }
  [[noreturn]] void refuse_head(std::string_view line) const {
    refuse(fmt::format("expected two column names such as x_mm,y_mm, saw \"{}\"", clip(line, most_echoed)),
           "name both columns with the same unit");
  }

  void read_point(std::string_view line) {
    const auto fields = fields_of(line);
    if (fields.size() != 2)
      refuse(fmt::format("expected two numbers, saw {} in \"{}\"", fields.size(), clip(line, most_echoed)),
             "write x and y with a comma between them and a decimal point, for example 12.5,30");
    const auto x = coordinate(fields[0]);
    const auto y = coordinate(fields[1]);
    if (ring_.empty()) begin_ = place_;
    budget_.spend(1);
    ring_.push_back({x * mm(), y * mm()});
  }

  [[nodiscard]] double coordinate(std::string_view field) const {
    if (const auto value = number(field)) return *value;
    const bool comma = field.find(',') != std::string_view::npos;
    refuse(fmt::format("\"{}\" is {}", clip(field, most_echoed),
                       comma ? "written with a decimal comma" : "no number"),
           "write decimals with a point, for example 12.5");
  }

  /// mm in one unit of the file.
  [[nodiscard]] double mm() const {
    const auto& told = options_.user_unit;
    if (stated_mm_ && told && std::abs(*stated_mm_ - told->si * mm_per_m) > 1e-9 * *stated_mm_)
      refuse("the unit given is not the one that the columns are named with", "leave the unit out");
    if (stated_mm_) return *stated_mm_;
    if (told) return told->si * mm_per_m;
    refuse("the unit of the coordinates is not clear",
           fmt::format("begin the file with a line such as x_mm,y_mm, or give the length of one unit: {}",
                       setting(options_, "unit", "1 mm")));
  }

  void end_ring() {
    if (!ring_.empty())
      rings_.push_back({std::move(ring_), begin_, fmt::format("ring {}", rings_.size() + 1)});
    ring_.clear();
  }

  std::string_view rest_;
  Place place_;
  Place begin_;
  ReadOptions options_;
  PointBudget budget_;
  std::optional<double> stated_mm_;
  Ring ring_;
  std::vector<PlacedRing> rings_;
};

}  // namespace

Outline read_csv(std::string_view text, const std::string& file, const ReadOptions& options) {
  check_options(options);
  constexpr Length exact{0.0};  // points have no curves
  return traced(nest_rings(CsvReader(text, file, options).read(), {file, 0, 0}), file, exact);
}

}  // namespace warmsheet::outline
