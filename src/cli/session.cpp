// SPDX-License-Identifier: MIT
#include "cli/session.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/file.h"
#include "base/problem.h"
#include "base/text.h"
#include "report/writers.h"

namespace warmsheet::cli {
namespace {

constexpr std::size_t terminal_columns = 80;

bool wants_color(const Environment& environment, const Arguments& arguments) {
  const std::string when = arguments.choice_if("--color", {"auto", "always", "never"}).value_or("auto");
  if (when != "auto") return when == "always";
  return environment.out_is_terminal && !environment.color_unwanted;
}

report::TextPictures pictures_from(const Environment& environment, const Arguments& arguments) {
  if (!arguments.flag("--draw")) return report::TextPictures::none;
  return environment.takes_utf8 ? report::TextPictures::utf8 : report::TextPictures::ascii;
}

}  // namespace

report::LibraryStamp stamp(const library::Library& library) {
  report::LibraryStamp stamp;
  for (const library::Layer& layer : library.layers)
    stamp.layers.push_back(layer.path.empty() ? layer.name : fmt::format("{}: {}", layer.name, layer.path));
  stamp.hash = library.hash;
  return stamp;
}

library::Library Session::load_library(const Arguments& arguments) const {
  std::vector<library::LayerFolder> layers = environment_.layers;
  for (const std::string& folder : arguments.texts("--library")) layers.push_back({"--library", folder});
  return library::load(layers);
}

int Session::deliver(const report::Document& document, const Arguments& arguments) {
  const auto asked = arguments.text_if("--why");
  if (asked && arguments.flag("--json"))
    refuse_usage("--why", "explains in words; leave out --json",
                 "every figure in the JSON lists what it rests on");
  if (const auto path = arguments.text_if("--html"))
    deliver_file(*path, report::to_html(document), arguments);
  if (asked)
    explain(document, *asked);
  else if (arguments.flag("--json"))
    out_ << report::to_json(document);
  else
    out_ << report::to_text(document, {.width = terminal_columns,
                                       .color = wants_color(environment_, arguments),
                                       .brief = arguments.flag("--quiet"),
                                       .pictures = pictures_from(environment_, arguments)});
  return document.answer_is_no ? exit_code(Trouble::no_answer) : 0;
}

void Session::deliver_file(const std::string& path, std::string_view bytes, const Arguments& arguments) {
  if (path == "-")
    refuse_usage("", "\"-\" names no file: standard output holds the answer",
                 "name a file, or ./- for one of this name");
  write_file(path, bytes);
  if (!arguments.flag("--quiet")) err_ << "wrote " << path << "\n";
}

void Session::explain(const report::Document& document, const std::string& name) {
  std::vector<std::string> known;
  for (const NamedFinding& result : document.results) {
    known.push_back(result.name);
    if (result.name != name) continue;
    if (result.finding.known())
      out_ << report::why(result.finding.figure(), terminal_columns);
    else
      out_ << name << ": " << result.finding.reason() << "\n";
    out_ << report::cautions_text(document, terminal_columns);
    return;
  }
  for (const Figure& figure : document.figures()) {
    known.push_back(figure.name());
    if (figure.name() != name) continue;
    out_ << report::why(figure, terminal_columns) << report::cautions_text(document, terminal_columns);
    return;
  }
  const std::string near = nearest(name, known);
  std::vector<std::string> names;
  for (const NamedFinding& result : document.results) names.push_back(result.name);
  refuse_usage("--why", fmt::format("there is no figure \"{}\" here", clip(name, 60)),
               near.empty() ? "figures: " + join(names, ", ") : fmt::format("did you mean {}?", near));
}

}  // namespace warmsheet::cli
