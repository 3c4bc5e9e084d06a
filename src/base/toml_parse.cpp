// SPDX-License-Identifier: MIT
// The only file that knows the TOML library: turns its tree into ours, with places.
#include <algorithm>
#include <cmath>

#include "base/strict_toml.h"
#include "base/toml_hint.h"

#define TOML_EXCEPTIONS 1
#include <toml++/toml.h>

namespace warmsheet::toml {
namespace {

Place place_of(const ::toml::source_region& region, const std::string& file) {
  return {file, static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

[[noreturn]] void refuse(const Place& place, std::string message) {
  throw Failure({Trouble::data, place, std::move(message), {}});
}

Value convert(const ::toml::node& node, const std::string& file) {
  Value value{std::string{}, place_of(node.source(), file)};
  if (const auto* table = node.as_table()) {
    Table converted;
    for (const auto& [key, child] : *table) {
      Value child_value = convert(child, file);
      // For a table, the key's place says more than the bracket's.
      child_value.key_place = place_of(key.source(), file);
      if (child.is_table() || child.is_array()) child_value.place = child_value.key_place;
      converted.emplace(std::string(key.str()), std::move(child_value));
    }
    value.data = std::move(converted);
  } else if (const auto* array = node.as_array()) {
    Array converted;
    for (const auto& child : *array) converted.push_back(convert(child, file));
    value.data = std::move(converted);
  } else if (const auto* text = node.as_string()) {
    value.data = text->get();
  } else if (const auto* whole = node.as_integer()) {
    value.data = whole->get();
  } else if (const auto* number = node.as_floating_point()) {
    if (!std::isfinite(number->get())) refuse(value.place, "nan and inf are not accepted as values");
    value.data = number->get();
  } else if (const auto* flag = node.as_boolean()) {
    value.data = flag->get();
  } else {
    refuse(value.place, "dates and times are not used in this file");
  }
  return value;
}

/// The library begins its sentences with the rule of its grammar it was in, which helps nobody.
std::string plain(std::string_view description) {
  const std::size_t colon = description.find(": ");
  const bool names_rule = description.starts_with("Error while parsing") && colon != std::string_view::npos;
  return std::string(names_rule ? description.substr(colon + 2) : description);
}

std::string_view line_at(std::string_view text, int line) {
  for (int i = 1; i < line; ++i) text.remove_prefix(std::min(text.find('\n'), text.size() - 1) + 1);
  return text.substr(0, text.find('\n'));
}

}  // namespace

Value parse(std::string_view text, const std::string& file) {
  try {
    Value document = convert(::toml::parse(text, std::string_view(file)), file);
    detail::remember_stated(document);
    return document;
  } catch (const ::toml::parse_error& error) {
    const Place place = place_of(error.source(), file);
    throw Failure({Trouble::data, place, "not valid TOML: " + plain(error.description()),
                   syntax_hint(line_at(text, place.line), error.description())});
  }
}

}  // namespace warmsheet::toml
