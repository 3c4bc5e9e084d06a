// SPDX-License-Identifier: MIT
#include <algorithm>
#include <array>
#include <filesystem>
#include <utility>

#include "base/file.h"
#include "base/problem.h"
#include "base/strict_toml.h"
#include "cli/command.h"
#include "cli/file_kinds.h"
#include "cli/library_file.h"
#include "cli/outline_options.h"
#include "cli/session.h"
#include "heat/bench_notes.h"
#include "library/layer_files.h"
#include "outline/estimate.h"
#include "outline/fit.h"
#include "plan/cautions.h"
#include "plan/job.h"
#include "stock/caseload.h"

namespace warmsheet::cli {
namespace {

namespace fs = std::filesystem;

void check_measures(const std::string& path, const library::Library& library) {
  outline::require_measures(library, read_measures_file(path));
}

/// Reads a file as its command would.
void read_as(FileKind kind, const std::string& path, const library::Library& library) {
  switch (kind) {
    case FileKind::caseload:
      static_cast<void>(stock::read_caseload(path, library));
      break;
    case FileKind::bench_notes:
      static_cast<void>(heat::read_bench_notes(read_file(path), path, library));
      break;
    case FileKind::job:
      static_cast<void>(plan::read_job(path, library));
      break;
    case FileKind::measures:
      check_measures(path, library);
      break;
    case FileKind::outline:
      break;  // read with the options that an outline of any format takes
  }
}

constexpr std::string_view outline_kind = "outline";

/// By the order of FileKind.
constexpr std::array<std::string_view, 5> kind_names{"caseload", "bench notes", "job", "measures",
                                                     outline_kind};

/// Throws a Failure (data) if no key tells.
FileKind toml_kind(const std::string& path) {
  if (const auto kind = kind_of(toml::parse(read_file(path), path))) return *kind;
  throw Failure(Problem{Trouble::data,
                        {path, 1, 1},
                        "no key tells what this file is",
                        "a job has a label, a caseload [[kind]] and [[item]], bench notes a bath_state, a "
                        "measures file [measures], an outline points; a library is checked as a folder"});
}

/// An empty folder would pass for a library without a fault.
void require_library_file(const std::string& folder) {
  Problems problems;
  bool all_read = true;
  if (library::read_layer({"checked", folder}, problems, all_read).empty()) {
    problems.throw_if_any();
    throw Failure(Problem{Trouble::data,
                          {folder, 0, 0},
                          "holds no file of a library",
                          "see materials/README.md for the names of its files"});
  }
}

/// Every design is drawn over the whole range of human sizes.
void require_designs_fit(const library::Library& library) {
  std::vector<Problem> problems;
  for (const auto& [id, design] : library.designs)
    for (Problem& problem : outline::fit_problems(design, library)) problems.push_back(std::move(problem));
  if (!problems.empty()) throw Failure(std::move(problems));
}

/// What the file was taken for; throws the first or all of its problems.
std::string_view check_one(const std::string& path, const Arguments& arguments, Session& session,
                           const library::Library& library) {
  std::error_code ignored;
  if (fs::is_directory(path, ignored)) {
    require_library_file(path);
    require_designs_fit(session.load_library(arguments, {{"checked", path}}));
    return "library folder";
  }
  if (path.ends_with(".toml")) {
    if (is_library_file(path)) {
      check_library_file(path, arguments, session);
      return "library file";
    }
    const FileKind kind = toml_kind(path);
    read_as(kind, path, library);
    if (kind != FileKind::outline) return kind_names[static_cast<std::size_t>(kind)];
  }
  if (!is_outline_file(path))
    refuse_usage("", "\"" + path + "\" has no ending this program reads",
                 "it reads .toml, .svg, .dxf, .csv, .png, .jpg, .pgm and library folders");
  static_cast<void>(outline_from(path, arguments, library));
  return outline_kind;
}

struct Checked {
  std::string path;
  std::string kind;
  std::vector<std::string> problems;
};

/// "place: what is wrong; what to do".
std::string one_line(Problem problem, const std::string& path) {
  if (problem.place.file.empty()) problem.place.file = path;
  if (!problem.hint.empty()) problem.message += "; " + std::exchange(problem.hint, {});
  return problem.text();
}

Checked check(const std::string& path, const Arguments& arguments, Session& session,
              const library::Library& library, int& worst) {
  Checked checked{path, "", {}};
  try {
    checked.kind = check_one(path, arguments, session, library);
  } catch (const Failure& failure) {
    for (const Problem& problem : failure.problems()) checked.problems.push_back(one_line(problem, path));
    worst = std::max(worst, exit_code(failure.trouble()));
  }
  return checked;
}

report::Document document_of(const std::vector<Checked>& files, report::LibraryStamp stamp) {
  report::Document document("check", "Checked files", plan::standing_cautions(), std::move(stamp));
  report::RecordArray array{"files", {}};
  report::Bullets bullets;
  for (const Checked& file : files) {
    array.records.push_back({{{"file", file.path}, {"kind", file.kind}, {"problems", file.problems}}});
    if (file.problems.empty())
      bullets.items.push_back(say("OK: {} ({})", Label(file.path), Label(file.kind)));
    for (const std::string& problem : file.problems)
      bullets.items.push_back(say("PROBLEM: {}", Label(problem)));
  }
  document.arrays = {std::move(array)};
  document.sections = {{"Files", {std::move(bullets)}}};
  return document;
}

int run(const Arguments& arguments, Session& session) {
  const library::Library library = session.load_library(arguments);
  int worst = 0;
  std::vector<Checked> files;
  for (const std::string& path : arguments.positionals())
    files.push_back(check(path, arguments, session, library, worst));
  const auto may_be_outline = [](const Checked& file) {
    return file.kind == outline_kind || !file.problems.empty();
  };
  if (std::none_of(files.begin(), files.end(), may_be_outline))
    refuse_idle(arguments, file_options(), "is for an outline file, and none is named", "leave it out");
  else
    refuse_idle_file_options(arguments, arguments.positionals());
  session.deliver(document_of(files, stamp(library)), arguments);
  return worst;
}

}  // namespace

extern const Command check_command{
    .name = "check",
    .summary = "validate job, caseload, outline and library files without running anything",
    .about = "Reads each file as its command would and reports every problem with its place.",
    .positional = "FILE ...",
    .positional_help = "job, caseload, bench notes, measures or outline files, or library folders and files",
    .positional_required = true,
    .examples =
        {"warmsheet check examples/wrist/job.toml examples/clinic/caseload.toml examples/bench/notes.toml "
         "examples/outlines/volar-wrist-traced.svg",
         "warmsheet check materials"},
    .groups = {{"Files",
                {{"--unit", "LENGTH", "length of one unit in an outline file that does not say"},
                 {"--tolerance", "LENGTH", "largest distance between a curve and its chords"},
                 {"--layer", "NAME", "read only this layer or group of an SVG or DXF file"},
                 {"--photo", "a4|letter", "a photo of a pattern on a whole sheet of this paper"}}}},
    .run = run};

}  // namespace warmsheet::cli
