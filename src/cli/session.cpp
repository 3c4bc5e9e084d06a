// SPDX-License-Identifier: MIT
#include "cli/session.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <utility>

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

/// What `--why` can ask for: the results where there are any, else every figure shown.
std::vector<std::string> askable(const report::Document& document) {
  std::vector<std::string> names;
  for (const NamedFinding& result : document.results) names.push_back(result.name);
  if (!names.empty()) return names;
  for (const Figure& figure : document.figures())
    if (std::find(names.begin(), names.end(), figure.name()) == names.end()) names.push_back(figure.name());
  return names;
}

[[noreturn]] void refuse_unknown_figure(const report::Document& document, const std::string& name) {
  constexpr std::size_t listed = 400;
  const std::vector<std::string> names = askable(document);
  std::vector<std::string> known = names;
  for (const Figure& figure : document.figures()) known.push_back(figure.name());
  const std::string near = nearest(name, known);
  std::string hint = fmt::format("warmsheet {} answers without figures", document.command());
  if (!names.empty()) hint = "figures: " + clip(join(names, ", "), listed);
  if (!near.empty()) hint = fmt::format("did you mean {}?", near);
  refuse_usage("--why", fmt::format("there is no figure \"{}\" here", clip(name, 60)), hint);
}

std::string explanation(const report::Document& document, const std::string& name) {
  const std::optional<Finding> found = document.find(name);
  if (!found) refuse_unknown_figure(document, name);
  return (found->known() ? report::why(found->figure(), terminal_columns)
                         : fmt::format("{}: {}\n", name, found->reason())) +
         report::cautions_text(document, terminal_columns);
}

[[noreturn]] void refuse_taken(const std::string& path) {
  throw Failure({Trouble::write,
                 {path, 0, 0},
                 "this run reads it or writes something else there, and would write over it",
                 "nothing was changed there; name another file"});
}

/// Two names of one file that may not exist yet. A device or pipe takes what comes.
bool same_regular_file(const std::string& a, const std::string& b) {
  namespace fs = std::filesystem;
  std::error_code ignored;
  if (fs::exists(a, ignored) && !fs::is_regular_file(a, ignored)) return false;
  return fs::weakly_canonical(a, ignored) == fs::weakly_canonical(b, ignored);
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

library::Library Session::load_library(const Arguments& arguments,
                                       const std::vector<library::LayerFolder>& above) const {
  std::vector<library::LayerFolder> layers = environment_.layers;
  for (const std::string& folder : arguments.texts("--library")) layers.push_back({"--library", folder});
  layers.insert(layers.end(), above.begin(), above.end());
  return library::load(layers);
}

int Session::deliver(const report::Document& document, const Arguments& arguments) {
  const auto asked = arguments.text_if("--why");
  if (asked && arguments.flag("--json"))
    refuse_usage("--why", "explains in words; leave out --json",
                 "every figure in the JSON lists what it rests on");
  if (const auto path = arguments.text_if("--html"))
    deliver_file(*path, report::to_html(document), arguments);
  std::string answer;
  if (asked)
    answer = explanation(document, *asked);
  else if (arguments.flag("--json"))
    answer = report::to_json(document);
  else
    answer = report::to_text(document, {.width = terminal_columns,
                                        .color = wants_color(environment_, arguments),
                                        .brief = arguments.flag("--quiet"),
                                        .pictures = pictures_from(environment_, arguments)});
  write_pending();
  out_ << answer;
  return document.answer_is_no ? exit_code(Trouble::no_answer) : 0;
}

void Session::deliver_file(const std::string& path, std::string bytes, const Arguments& arguments) {
  if (path == "-")
    refuse_usage("", "\"-\" names no file: standard output holds the answer",
                 "name a file, or ./- for one of this name");
  require_free(path);
  pending_.push_back({path, std::move(bytes), false, !arguments.flag("--quiet")});
}

void Session::replace_file(const std::string& path, std::string bytes) {
  pending_.push_back({path, std::move(bytes), true, false});
}

void Session::require_free(const std::string& path) const {
  const auto is_the_same = [&](const Pending& other) { return same_regular_file(path, other.path); };
  if (files_.knows(path) || std::any_of(pending_.begin(), pending_.end(), is_the_same)) refuse_taken(path);
}

void Session::write_pending() {
  for (const Pending& file : pending_) {
    // Where a link led to nothing, only now two names show to be one file.
    if (!file.replaces && files_.knows(file.path)) refuse_taken(file.path);
    write_file(file.path, file.bytes);
    if (file.told) err_ << "wrote " << file.path << "\n";
  }
  pending_.clear();
}

}  // namespace warmsheet::cli
