// SPDX-License-Identifier: MIT
#include "cli/command.h"
#include "cli/drawing_options.h"
#include "cli/outline_options.h"
#include "cli/session.h"
#include "report/command_reports.h"
#include "report/drawings.h"

namespace warmsheet::cli {
namespace {

int run(const Arguments& arguments, Session& session) {
  if (arguments.positionals().size() > 1)
    refuse_usage("", "one outline at a time", "see: warmsheet outline --help");
  const library::Library library = session.load_library(arguments);
  const outline::Outline outline = outline_from(arguments.positionals().front(), arguments, library);
  deliver_drawing(report::outline_drawing(outline), outline_drawing, arguments, session);
  return session.deliver(report::outline_report(outline, stamp(library)), arguments);
}

std::vector<OptionGroup> groups() {
  std::vector<OptionGroup> all = outline_source_options();
  all.push_back(drawing_option_group(outline_drawing));
  return all;
}

}  // namespace

extern const Command outline_command{
    .name = "outline",
    .summary = "an outline from measures or from a file: area, extents, drawings",
    .about =
        "With the id of a design it draws the outline for one person's measures; with a file (.svg, .dxf, "
        ".csv, .toml) it "
        "reads a traced one. Curves are followed to the stated tolerance; what does not close or crosses "
        "itself is refused "
        "with the place.",
    .positional = "DESIGN or FILE",
    .positional_help = "a design of the library, or an outline file",
    .positional_required = true,
    .examples = {"warmsheet outline volar-wrist --measures examples/wrist/measures.toml",
                 "warmsheet outline examples/outlines/volar-wrist-traced.svg --pdf wrist.pdf",
                 "warmsheet outline examples/outlines/dorsal-wrist-traced.csv --unit \"1 mm\""},
    .groups = groups(),
    .run = run};

}  // namespace warmsheet::cli
