// SPDX-License-Identifier: MIT
// Points in a TOML file:  unit = "mm"   points = [[0, 0], [80, 0], ...]   [[hole]]   points = [...]
// and, if the file knows it, the side of the body that was traced with its outer face up:  side = "right"
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/dimension.h"
#include "base/strict_toml.h"
#include "outline/outline.h"
#include "outline/readers.h"

namespace warmsheet::outline {
namespace {

std::optional<double> number(const toml::Value& value) {
  if (const auto* real = std::get_if<double>(&value.data)) return *real;
  if (const auto* whole = std::get_if<std::int64_t>(&value.data)) return static_cast<double>(*whole);
  return std::nullopt;
}

std::optional<Point> point(const toml::Value& value, double scale) {
  const toml::Array* pair = value.array();
  if (pair == nullptr || pair->size() != 2) return std::nullopt;
  const auto x = number((*pair)[0]);
  const auto y = number((*pair)[1]);
  if (!x || !y) return std::nullopt;
  return Point{*x * scale, *y * scale};
}

Ring read_points(toml::Reader& reader, double scale, Problems& problems) {
  const toml::Value* list = reader.raw_if("points");
  if (list == nullptr || list->array() == nullptr) {
    reader.problem("points", "expected a list of points", "write points = [[0, 0], [80, 0], [80, 120]]");
    return {};
  }
  Ring ring;
  for (const toml::Value& entry : *list->array()) {
    const auto p = point(entry, scale);
    if (!p) {
      problems.add(entry.place, fmt::format("expected a point such as [12.5, 30], saw {}", entry.kind()),
                   "give two numbers, x and y");
      return {};
    }
    ring.push_back(*p);
  }
  return ring;
}

double read_scale(toml::Reader& reader) {
  const std::string word = reader.text("unit");
  const Unit* unit = find_unit(Dimension::length, word);
  if (unit != nullptr) return unit->to_si(1.0) * mm_per_m;
  if (!word.empty())
    reader.problem("unit", fmt::format("\"{}\" is no unit of length", word), unit_list(Dimension::length));
  return 1.0;
}

}  // namespace

Outline read_toml(std::string_view text, const std::string& file) {
  const toml::Value document = toml::parse(text, file);
  Problems problems;
  std::optional<std::string> name;
  std::optional<Side> side;
  Ring outer;
  std::vector<Ring> holes;
  {
    toml::Reader reader(document, "", problems, Basis::entered);
    const double scale = read_scale(reader);
    name = reader.text_if("name");
    if (reader.raw_if("side") != nullptr)
      side = reader.choice("side", {"right", "left"}) == "left" ? Side::left : Side::right;
    outer = read_points(reader, scale, problems);
    for (toml::Reader& hole : reader.tables("hole")) holes.push_back(read_points(hole, scale, problems));
  }
  problems.throw_if_any();
  constexpr Length exact{0.0};  // points have no curves
  Outline outline = traced(Polygon::make(std::move(outer), std::move(holes), {file, 0, 0}), file, exact);
  if (name) outline.name = *name;
  outline.side = side;
  return outline;
}

}  // namespace warmsheet::outline
