// SPDX-License-Identifier: MIT
#include "cli/command.h"
#include "cli/drawing_options.h"
#include "cli/outline_options.h"
#include "cli/session.h"
#include "report/command_reports.h"
#include "report/drawings.h"
#include "report/measure_sketch.h"

namespace warmsheet::cli {
namespace {

/// Writes them if they are asked for; true if nothing else can be, because no measure is given yet.
bool deliver_measure_figures(const Arguments& arguments, const library::Library& library, Session& session) {
  const auto path = arguments.text_if("--measure-figures");
  if (!path) return false;
  const std::string& word = arguments.positionals().front();
  if (is_outline_file(word))
    refuse_usage("--measure-figures", "a file is not drawn from measures", "name a design of the library");
  const library::Design& design = library.design(word);
  session.deliver_file(
      *path, report::to_svg(report::measure_sketches(design, library), "Measures for: " + design.name),
      arguments);
  return measures_from(arguments).empty();
}

int run(const Arguments& arguments, Session& session) {
  if (arguments.positionals().size() > 1)
    refuse_usage("", "one outline at a time", "see: warmsheet outline --help");
  const library::Library library = session.load_library(arguments);
  if (deliver_measure_figures(arguments, library, session))
    return session.deliver(
        report::measures_report(library.design(arguments.positionals().front()), library, stamp(library)),
        arguments);
  const outline::Outline outline = outline_from(arguments.positionals().front(), arguments, library);
  deliver_drawing(report::outline_drawing(outline), outline_drawing, arguments, session);
  return session.deliver(report::outline_report(outline, stamp(library)), arguments);
}

std::vector<OptionGroup> groups() {
  std::vector<OptionGroup> all = outline_source_options();
  all.push_back(
      {"Figures", {{"--measure-figures", "FILE", "an SVG sheet that shows how each measure is taken"}}});
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
    .examples = {"warmsheet outline long-thumb --measure-figures how-to-measure.svg",
                 "warmsheet outline volar-wrist --measures examples/wrist/measures.toml",
                 "warmsheet outline examples/outlines/volar-wrist-traced.svg --pdf wrist.pdf",
                 "warmsheet outline examples/outlines/dorsal-wrist-traced.csv --unit \"1 mm\""},
    .groups = groups(),
    .run = run};

}  // namespace warmsheet::cli
