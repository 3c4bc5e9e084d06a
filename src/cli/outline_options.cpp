// SPDX-License-Identifier: MIT
#include "cli/outline_options.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>
#include <utility>

#include "base/file.h"
#include "base/problem.h"
#include "base/strict_toml.h"
#include "base/text.h"

namespace warmsheet::cli {
namespace {

/// "--measure wrist_girth=160mm" names wrist_girth.
std::string measure_name(const std::string& typed) {
  return std::string(trim(typed.substr(0, typed.find('='))));
}

void add_typed_measure(outline::Measures& measures, const std::string& typed) {
  const std::size_t equals = typed.find('=');
  if (equals == std::string::npos)
    refuse_usage("--measure", fmt::format("\"{}\" has no value", clip(typed, 40)),
                 "write for example --measure wrist_girth=\"160 mm\"");
  const std::string name = measure_name(typed);
  try {
    const Written written = parse_quantity(typed.substr(equals + 1), Dimension::length);
    measures.insert_or_assign(name, Figure::entered(name, Range::exactly(written.si), *written.unit,
                                                    Place{"--measure " + name, 0, 0}));
  } catch (const Failure& failure) {
    refuse_usage("--measure " + name, failure.problems().front().message, failure.problems().front().hint);
  }
}

std::optional<outline::Side> side_if(const Arguments& arguments, std::string_view option) {
  const auto side = arguments.choice_if(option, {"right", "left"});
  if (!side) return std::nullopt;
  return *side == "left" ? outline::Side::left : outline::Side::right;
}

outline::ReadOptions read_options_from(const Arguments& arguments) {
  outline::ReadOptions options;
  if (const auto unit = arguments.figure_if("--unit", Dimension::length, outline::unit_limits_m))
    options.user_unit = Length{unit->si()};
  if (const auto tolerance =
          arguments.figure_if("--tolerance", Dimension::length, outline::tolerance_limits_m))
    options.tolerance = Length{tolerance->si()};
  options.layer = arguments.text_if("--layer");
  if (const auto paper = arguments.choice_if("--photo", {"a4", "letter"}))
    options.paper = *paper == "a4" ? outline::a4_paper : outline::letter_paper;
  options.traced = side_if(arguments, "--traced");
  return options;
}

}  // namespace

outline::Measures read_measures_file(const std::string& path) {
  const toml::Value document = toml::parse(read_file(path), path);
  Problems problems;
  outline::Measures measures;
  {
    toml::Reader root(document, "", problems, Basis::entered);
    toml::Reader table = root.table("measures");
    for (const std::string& name : table.names())
      measures.emplace(name, table.figure(name, Dimension::length));
  }
  problems.throw_if_any();
  return measures;
}

outline::Measures measures_from(const Arguments& arguments) {
  outline::Measures measures;
  if (const auto path = arguments.text_if("--measures")) measures = read_measures_file(*path);
  std::set<std::string> names;
  for (const std::string& typed : arguments.texts("--measure")) {
    if (!names.insert(measure_name(typed)).second)
      refuse_usage("--measure " + measure_name(typed), "was given more than once");
    add_typed_measure(measures, typed);
  }
  return measures;
}

bool is_outline_file(std::string_view word) {
  const std::filesystem::path path(word);
  std::error_code unseen;
  return outline::is_outline_name(word) || word.find('/') != std::string_view::npos ||
         (path.has_extension() && std::filesystem::is_regular_file(path, unseen));
}

outline::Outline outline_from(std::string_view word, const Arguments& arguments,
                              const library::Library& library) {
  if (is_outline_file(word)) {
    outline::ReadOptions options = read_options_from(arguments);
    options.side = side_if(arguments, "--side");
    return outline::read(std::string(word), options);
  }
  return outline::draw(library.design(word), library, measures_from(arguments), side_from(arguments));
}

outline::Outline shape_from(std::string_view file, const Arguments& arguments) {
  outline::ReadOptions options = read_options_from(arguments);
  options.traced.reset();
  return outline::read(std::string(file), options);
}

outline::Side side_from(const Arguments& arguments) {
  return side_if(arguments, "--side").value_or(outline::Side::right);
}

void refuse_idle_measures(const Arguments& arguments, const std::vector<const outline::Outline*>& outlines) {
  for (const std::string& typed : arguments.texts("--measure")) {
    const std::string name = measure_name(typed);
    const bool idle = std::all_of(outlines.begin(), outlines.end(), [&](const outline::Outline* outline) {
      const std::vector<std::string>& unused = outline->unused;
      return !outline->design || std::find(unused.begin(), unused.end(), name) != unused.end();
    });
    if (!idle) continue;
    std::set<std::string> used;
    for (const outline::Outline* outline : outlines)
      for (const outline::UsedMeasure& one : outline->measures) used.insert(one.measure.id);
    refuse_usage("--measure " + name, "decides nothing of what is drawn here",
                 "measures that do: " + join({used.begin(), used.end()}, ", "));
  }
}

const std::vector<std::string_view>& file_options() {
  static const std::vector<std::string_view> options{"--unit", "--tolerance", "--layer", "--photo",
                                                     "--traced"};
  return options;
}

void refuse_idle_file_options(const Arguments& arguments, const std::vector<std::string>& files) {
  for (const outline::OpenWord& open : outline::open_words) {
    const std::string option = "--" + std::string(open.word);
    if (std::none_of(files.begin(), files.end(),
                     [&](const std::string& file) { return outline::leaves_open(file, open.what); }))
      refuse_idle(arguments, {option}, "is nothing that a file of this kind leaves open", "leave it out");
  }
}

const std::vector<std::string_view>& design_options() {
  static const std::vector<std::string_view> options{"--measure", "--measures"};
  return options;
}

std::vector<OptionGroup> outline_source_options() {
  return {{"Measures",
           {{"--measure", "MEASURE=LENGTH", "one measure, repeatable: wrist_girth=\"160 mm\"", true},
            {"--measures", "FILE", "a TOML file with a [measures] table"},
            {"--side", "right|left", "of the body it is for; a design is drawn for the right without it"}}},
          {"Files",
           {{"--unit", "LENGTH",
             "of one unit in the file, where it does not say: \"1 mm\"; of one pixel of a scan"},
            {"--tolerance", "LENGTH", "largest distance between a curve and its chords"},
            {"--layer", "NAME", "read only this layer or group of an SVG or DXF file"},
            {"--photo", "a4|letter", "the file is a photo of a pattern on a whole sheet of this paper"},
            {"--traced", "right|left",
             "the side it was traced on, outer face up, where the file does not say; for the other --side it "
             "is turned over"}}}};
}

}  // namespace warmsheet::cli
