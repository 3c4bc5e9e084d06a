// SPDX-License-Identifier: MIT
#include <filesystem>

#include "base/file.h"
#include "base/problem.h"
#include "cli/command.h"
#include "cli/library_file.h"
#include "cli/session.h"
#include "heat/calibration.h"
#include "report/command_reports.h"

namespace warmsheet::cli {
namespace {

namespace fs = std::filesystem;

fs::path target_folder(const Arguments& arguments, const Session& session) {
  if (const auto named = arguments.text_if("--out")) return *named;
  if (session.environment().user_folder.empty())
    refuse_usage("--out", "there is no home folder to write to", "name a folder: --out DIR");
  return session.environment().user_folder;
}

[[noreturn]] void leave_alone(const fs::path& path) {
  throw Failure(
      {Trouble::write,
       {path.string(), 0, 0},
       "holds figures of your own and was not touched",
       "run again with --dry-run --json and copy the constants, or name another folder: --out DIR"});
}

/// A file that somebody wrote or added to is never touched, and no entry is stated beside theirs: a library
/// that states one twice is refused.
void require_ours(const fs::path& path) {
  std::error_code ignored;
  if (fs::exists(path, ignored) && !heat::holds_fits_only(read_file(path))) leave_alone(path);
  if (path.parent_path().filename() != "sheets" || !fs::is_directory(path.parent_path(), ignored)) return;
  for (const fs::directory_entry& file : fs::directory_iterator(path.parent_path()))
    if (file.path().extension() == ".toml" && file.path().filename() != path.filename() &&
        entry_id(file.path().string()) == path.stem())
      leave_alone(file.path());
}

/// The library in use, with what an earlier calibration left in the folder.
library::Library library_with(const fs::path& folder, const Arguments& arguments, const Session& session) {
  std::error_code ignored;
  if (!fs::is_directory(folder, ignored)) return session.load_library(arguments);
  return session.load_library(arguments, {{"--out", folder.string()}});
}

std::vector<std::string> write_files(const heat::Calibration& calibration, const Arguments& arguments,
                                     Session& session) {
  const fs::path folder = target_folder(arguments, session);
  const std::vector<heat::CalibratedFile> files =
      heat::calibrated_files(calibration, library_with(folder, arguments, session));
  for (const heat::CalibratedFile& file : files) require_ours(folder / file.path);
  std::vector<std::string> written;
  for (const heat::CalibratedFile& file : files) {
    const fs::path path = folder / file.path;
    std::error_code failed;
    fs::create_directories(path.parent_path(), failed);
    session.replace_file(path.string(), file.text);
    written.push_back(path.string());
  }
  return written;
}

int run(const Arguments& arguments, Session& session) {
  if (arguments.positionals().size() > 1)
    refuse_usage("", "one file of notes at a time", "see: warmsheet calibrate --help");
  const library::Library library = session.load_library(arguments);
  const std::string& path = arguments.positionals().front();
  const heat::BenchNotes notes = heat::read_bench_notes(read_file(path), path, library);
  const heat::Calibration calibration = heat::calibrate(notes);
  const bool dry = arguments.flag("--dry-run");
  const auto written = dry ? std::vector<std::string>{} : write_files(calibration, arguments, session);
  return session.deliver(report::calibrate_report(calibration, written, stamp(library)), arguments);
}

}  // namespace

extern const Command calibrate_command{
    .name = "calibrate",
    .summary = "fit bath and setting to your own stopwatch notes",
    .about =
        "Reads timings of test strips (half soft and ready in the bath; stiffening, holding, set and surface "
        "temperatures on a rack, never on skin) and fits the bath's film coefficient, the sheet's setting "
        "half-time at 42 C and its latent heat, each weighed with the range the library gives it. What the "
        "notes tell goes into your own library folder with basis bench, beside what earlier notes told; what "
        "they do not tell is said.",
    .positional = "BENCH.toml",
    .positional_help = "your notes; see examples/bench/notes.toml",
    .positional_required = true,
    .examples = {"warmsheet calibrate examples/bench/notes.toml --dry-run",
                 "warmsheet calibrate examples/bench/notes.toml --out my-library"},
    .groups = {{"Writing",
                {{"--dry-run", "", "show the fit, write nothing"},
                 {"--out", "DIR", "library folder to write to; otherwise your own"}}}},
    .run = run};

}  // namespace warmsheet::cli
