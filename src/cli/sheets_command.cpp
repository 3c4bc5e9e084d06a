// SPDX-License-Identifier: MIT
#include "cli/command.h"
#include "cli/session.h"
#include "report/command_reports.h"

namespace warmsheet::cli {
namespace {

int run(const Arguments& arguments, Session& session) {
  const library::Library library = session.load_library(arguments);
  const auto& ids = arguments.positionals();
  if (ids.size() > 1) refuse_usage("", "one sheet at a time", "see: warmsheet sheets --help");
  if (arguments.flag("--sources")) {
    if (!ids.empty())
      refuse_usage("--sources", "lists the sources of the whole library", "leave out the sheet");
    return session.deliver(report::sources_report(library, stamp(library)), arguments);
  }
  const report::Document document =
      ids.empty() ? report::sheets_report(library, stamp(library))
                  : report::sheet_report(library, library.sheet(ids.front()), stamp(library));
  return session.deliver(document, arguments);
}

}  // namespace

extern const Command sheets_command{
    .name = "sheets",
    .summary = "list the library; with an ID every value, its basis and source",
    .about =
        "Sheets are generic, by polymer family and handling. Each value says where it comes from; prices and "
        "stock are invented for demonstration until your own library folder replaces them.",
    .positional = "SHEET",
    .positional_help = "a sheet of the library",
    .examples = {"warmsheet sheets", "warmsheet sheets elastic-clear", "warmsheet sheets --sources",
                 "warmsheet sheets --json"},
    .groups = {{"List", {{"--sources", "", "the published sources instead: who, when, what, where"}}}},
    .run = run};

}  // namespace warmsheet::cli
