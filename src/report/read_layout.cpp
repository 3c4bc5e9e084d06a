// SPDX-License-Identifier: MIT
#include "report/read_layout.h"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "base/problem.h"

namespace warmsheet::report {
namespace {

using Json = nlohmann::json;

constexpr const char* how_to_write = "write one with: warmsheet nest ... --json > layout.json";
constexpr std::int64_t most = 1'000'000;  // copies, sheets: more is no layout

class LayoutReader {
 public:
  LayoutReader(std::string_view json, const std::string& file) : file_(file) {
    root_ = Json::parse(json, nullptr, false);
    if (root_.is_discarded()) refuse("this is no JSON");
    if (!root_.is_object()) refuse("this JSON holds no layout");
  }

  plan::SavedLayout read() {
    plan::SavedLayout layout{file_, {}, {}};
    for (const Json& sheet : array("used_sheets")) layout.sheets.push_back(text(sheet, "stock"));
    for (const Json& entry : array("placements")) layout.placements.push_back(placement(entry));
    for (const plan::SavedLayout::Placement& p : layout.placements)
      if (p.sheet >= layout.sheets.size())
        refuse(fmt::format("a placement names sheet {} of {}", p.sheet + 1, layout.sheets.size()));
    return layout;
  }

 private:
  [[noreturn]] void refuse(std::string message) const {
    throw Failure(Problem{Trouble::data, {file_, 0, 0}, std::move(message), how_to_write});
  }

  const Json& array(const char* name) const {
    const auto at = root_.find(name);
    if (at == root_.end() || !at->is_array()) refuse(fmt::format("there is no list \"{}\" in it", name));
    return *at;
  }

  const Json& member(const Json& object, const char* name) const {
    if (!object.is_object() || !object.contains(name)) refuse(fmt::format("an entry has no \"{}\"", name));
    return object.at(name);
  }

  std::string text(const Json& object, const char* name) const {
    const Json& value = member(object, name);
    if (!value.is_string()) refuse(fmt::format("\"{}\" is no text", name));
    return value.get<std::string>();
  }

  double number(const Json& object, const char* name) const {
    constexpr double largest = 1e5;  // 100 m, or many turns
    const Json& value = member(object, name);
    if (!value.is_number() || !(std::abs(value.get<double>()) <= largest))
      refuse(fmt::format("\"{}\" is no number within {}", name, largest));
    return value.get<double>();
  }

  std::int64_t count(const Json& object, const char* name) const {
    const Json& value = member(object, name);
    if (!value.is_number_integer() || value.get<std::int64_t>() < 1 || value.get<std::int64_t>() > most)
      refuse(fmt::format("\"{}\" is no whole number from 1 to {}", name, most));
    return value.get<std::int64_t>();
  }

  plan::SavedLayout::Placement placement(const Json& entry) const {
    const Json& flipped = member(entry, "flipped");
    if (!flipped.is_boolean()) refuse("\"flipped\" is neither true nor false");
    return {text(entry, "outline"),
            static_cast<int>(count(entry, "copy") - 1),
            static_cast<std::size_t>(count(entry, "sheet") - 1),
            number(entry, "x_mm"),
            number(entry, "y_mm"),
            number(entry, "angle_deg"),
            flipped.get<bool>()};
  }

  const std::string& file_;
  Json root_;
};

}  // namespace

plan::SavedLayout parse_layout(std::string_view json, const std::string& file) {
  return LayoutReader(json, file).read();
}

}  // namespace warmsheet::report
