// SPDX-License-Identifier: MIT
#include "outline/named_file.h"

#include <utility>

namespace warmsheet::outline {
namespace {

std::optional<Length> length_if(toml::Reader& table, std::string_view key, Limits limits) {
  const auto figure = table.figure_if(key, Dimension::length, limits);
  return figure ? std::optional(Length{figure->si()}) : std::nullopt;
}

/// A file that says it itself, or cannot have it, is not told.
void refuse_idle_keys(toml::Reader& table, std::string_view file) {
  for (const auto& [key, what] : open_words)
    if (table.has(key) && !leaves_open(file, what))
      table.problem(key, "is nothing that a file of this kind leaves open", "leave it out");
}

ReadOptions options_of(toml::Reader& table) {
  ReadOptions options{.ask = AskFor::key};
  options.user_unit = length_if(table, "unit", unit_limits_m);
  options.tolerance = length_if(table, "tolerance", tolerance_limits_m).value_or(options.tolerance);
  options.layer = table.text_if("layer");
  if (table.raw_if("photo") != nullptr)
    options.paper = table.choice("photo", {"a4", "letter"}) == "a4" ? a4_paper : letter_paper;
  if (table.raw_if("traced") != nullptr)
    options.traced = table.choice("traced", {"right", "left"}) == "left" ? Side::left : Side::right;
  return options;
}

}  // namespace

std::optional<NamedFile> named_file(toml::Reader& reader, std::string_view key) {
  const toml::Value* value = reader.raw_if(key);
  if (value == nullptr) return std::nullopt;
  if (std::holds_alternative<std::string>(value->data))
    return NamedFile{reader.text(key), {.ask = AskFor::key}};
  if (value->table() == nullptr) {
    reader.problem(key, "expected the name of a file, saw " + std::string(value->kind()),
                   "write outline = \"FILE\", or outline = { file = \"FILE\", unit = \"1 mm\" }");
    return std::nullopt;
  }
  auto table = reader.table_if(key);
  std::string file = table->text("file");
  ReadOptions options = options_of(*table);
  refuse_idle_keys(*table, file);
  if (file.empty()) return std::nullopt;
  return NamedFile{std::move(file), std::move(options)};
}

}  // namespace warmsheet::outline
