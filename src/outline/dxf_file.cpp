// SPDX-License-Identifier: MIT
#include "outline/dxf_file.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <utility>

#include "base/dimension.h"
#include "base/text.h"
#include "outline/refuse.h"

namespace warmsheet::outline {
namespace {

constexpr std::size_t most_echoed = 40;

/// Walks the pairs of lines.
class GroupReader {
 public:
  GroupReader(std::string_view text, const std::string& file) : rest_(text), file_(file) {}

  /// The next pair; none at the end of the file.
  std::optional<DxfGroup> next() {
    if (rest_.empty()) return std::nullopt;
    DxfGroup group{0, {}, line_ + 1};
    const std::string_view code = trim(take_line());
    if (code.empty() && rest_.empty()) return std::nullopt;  // a newline too many at the end
    const auto read = std::from_chars(code.data(), code.data() + code.size(), group.code);
    if (read.ec != std::errc() || read.ptr != code.data() + code.size())
      refuse({file_, group.line, 0}, fmt::format("expected a group code, saw '{}'", clip(code, most_echoed)),
             "export the drawing again as ASCII DXF");
    if (rest_.empty())
      refuse({file_, group.line, 0}, "the file ends inside a pair of lines",
             "it is cut short; export it again");
    group.value = trim(take_line());
    return group;
  }

 private:
  std::string_view take_line() {
    ++line_;
    const std::size_t end = rest_.find('\n');
    const std::string_view line = rest_.substr(0, end);
    rest_.remove_prefix(end == std::string_view::npos ? rest_.size() : end + 1);
    return line;
  }

  std::string_view rest_;
  std::string file_;
  int line_ = 0;
};

/// mm in one unit, by the code of $INSUNITS; none for "unitless".
std::optional<double> unit_mm(const DxfGroup& group, const std::string& file) {
  const double code = dxf_number(group, file);
  if (code == 0.0) return std::nullopt;
  if (code == 1.0) return inch_mm;
  if (code == 2.0) return 12.0 * inch_mm;
  if (code == 4.0) return 1.0;
  if (code == 5.0) return 10.0;
  if (code == 6.0) return mm_per_m;
  refuse({file, group.line, 0},
         fmt::format("$INSUNITS is {}, which is no unit of a bench drawing", group.value),
         "export in millimetres ($INSUNITS 4) or inches ($INSUNITS 1)");
}

/// Sorts groups into the header's unit and the entities, as they pass by.
class Sorter {
 public:
  explicit Sorter(std::string file) : file_(std::move(file)) {}

  void take(const DxfGroup& group) {
    if (group.code == 0) return begin(group);
    if (group.code == 2 && expects_section_name_) {
      section_ = group.value;
      expects_section_name_ = false;
    } else if (section_ == "HEADER") {
      if (group.code == 9) variable_ = group.value;
      if (group.code == 70 && variable_ == "$INSUNITS") made_.unit_mm = unit_mm(group, file_);
    } else if (open_ != nullptr) {
      open_->back().groups.push_back(group);
    }
  }
  [[nodiscard]] bool saw_section() const { return saw_section_; }
  [[nodiscard]] bool inside_section() const { return !section_.empty(); }
  DxfFile finish() { return std::move(made_); }

 private:
  void begin(const DxfGroup& group) {
    open_ = nullptr;
    if (group.value == "SECTION") {
      expects_section_name_ = saw_section_ = true;
    } else if (group.value == "ENDSEC") {
      section_ = {};
    } else if (section_ == "ENTITIES") {
      open(made_.entities, group);
    } else if (section_ == "TABLES" && group.value == "LAYER") {
      open(made_.layers, group);
    }
  }

  void open(std::vector<DxfEntity>& list, const DxfGroup& group) {
    list.push_back({group.value, {file_, group.line, 0}, {}});
    open_ = &list;
  }

  std::string file_;
  DxfFile made_;
  std::string_view section_;
  std::string_view variable_;
  std::vector<DxfEntity>* open_ = nullptr;  // its last takes the groups that follow
  bool expects_section_name_ = false;
  bool saw_section_ = false;
};

}  // namespace

double dxf_number(const DxfGroup& group, const std::string& file) {
  double value = 0.0;
  const char* end = group.value.data() + group.value.size();
  const auto read = std::from_chars(group.value.data(), end, value);
  if (read.ec != std::errc() || read.ptr != end || !std::isfinite(value))
    refuse({file, group.line + 1, 0},
           fmt::format("expected a number, saw '{}'", clip(group.value, most_echoed)),
           "export the drawing again as ASCII DXF");
  return value;
}

double DxfEntity::number(int code, double otherwise) const {
  for (const DxfGroup& group : groups)
    if (group.code == code) return dxf_number(group, place.file);
  return otherwise;
}

double DxfEntity::number(int code) const {
  for (const DxfGroup& group : groups)
    if (group.code == code) return dxf_number(group, place.file);
  refuse(place, fmt::format("{} has no group {}", name, code), "export the drawing again as ASCII DXF");
}

bool DxfEntity::flag(int bits) const {
  constexpr double most = 65535.0;
  const double value = number(70, 0.0);
  if (value < 0.0 || value > most || value != std::floor(value))
    refuse(place, fmt::format("the flags (group 70) of this {} are no whole number", clip(name, most_echoed)),
           "export the drawing again as ASCII DXF");
  return (static_cast<int>(value) & bits) != 0;
}

std::string_view DxfEntity::text(int code) const {
  for (const DxfGroup& group : groups)
    if (group.code == code) return group.value;
  return {};
}

DxfFile parse_dxf(std::string_view text, const std::string& file) {
  if (text.starts_with("AutoCAD Binary DXF"))
    refuse({file, 1, 0}, "the file is a binary DXF", "export it as ASCII DXF, R12 if there is a choice");
  GroupReader reader(text, file);
  Sorter sorter(file);
  while (const auto group = reader.next()) sorter.take(*group);
  if (!sorter.saw_section())
    refuse({file, 1, 0}, "the file has no DXF section", "export the drawing as ASCII DXF");
  if (sorter.inside_section())
    refuse({file, 0, 0}, "the file ends inside a section", "it is cut short; export it again");
  return sorter.finish();
}

}  // namespace warmsheet::outline
