// SPDX-License-Identifier: MIT
#include "outline/svg_style.h"

#include <algorithm>
#include <array>
#include <string>

#include "base/text.h"

namespace warmsheet::outline {
namespace {

constexpr std::array properties{std::string_view("display"), std::string_view("visibility"),
                                std::string_view("transform"), std::string_view("transform-origin")};

/// Cuts off the part before the next separator; the separator goes with it.
std::string_view take(std::string_view& rest, char separator) {
  const std::string_view part = rest.substr(0, rest.find(separator));
  rest.remove_prefix(std::min(rest.size(), part.size() + 1));
  return part;
}

/// Calls `use(name, value)` for declarations such as "fill: none; display: none".
template <typename Use>
void each_declaration(std::string_view declarations, const Use& use) {
  while (!declarations.empty()) {
    std::string_view value = take(declarations, ';');
    const std::string_view name = take(value, ':');
    use(trim(name), trim(value));
  }
}

}  // namespace

void SvgStyles::add(std::string_view sheet) {
  while (!sheet.empty()) {
    std::string_view declarations = take(sheet, '}');
    std::string_view selectors = take(declarations, '{');
    std::map<std::string_view, std::string_view> says;
    each_declaration(declarations, [&](std::string_view name, std::string_view value) {
      if (std::find(properties.begin(), properties.end(), name) != properties.end()) says[name] = value;
    });
    while (!says.empty() && !selectors.empty()) {
      const std::string_view selector = trim(take(selectors, ','));
      for (const auto& [name, value] : says) said_[{std::string(selector), std::string(name)}] = value;
    }
  }
}

std::string_view SvgStyles::property(std::string_view name, const SvgStyled& shape) const {
  std::string_view said;
  const auto ask = [&](char mark, std::string_view word) {
    const auto rule = said_.find({std::string(1, mark) + std::string(word), std::string(name)});
    if (rule != said_.end()) said = rule->second;
  };
  std::string_view classes = shape.classes;
  while (!said_.empty() && !classes.empty()) ask('.', trim(take(classes, ' ')));
  if (!said_.empty()) ask('#', shape.id);
  each_declaration(shape.style, [&](std::string_view declared, std::string_view value) {
    if (declared == name) said = value;
  });
  return said;
}

}  // namespace warmsheet::outline
