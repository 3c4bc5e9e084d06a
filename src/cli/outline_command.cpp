// SPDX-License-Identifier: MIT
#include "cli/command.h"
#include "cli/drawing_options.h"
#include "cli/outline_options.h"
#include "cli/session.h"
#include "outline/size_set.h"
#include "report/command_reports.h"
#include "report/drawings.h"
#include "report/measure_sketch.h"
#include "report/size_set_report.h"

namespace warmsheet::cli {
namespace {

int run_size_set(const Arguments& arguments, const library::Library& library, Session& session) {
  constexpr Limits fit_limits{0.01, 0.5};
  const std::string& word = arguments.positionals().front();
  if (is_outline_file(word) || !measures_from(arguments).empty())
    refuse_usage("--size-set", "sizes are made for everybody, from a design",
                 "name a design and leave out --measure and --measures");
  refuse_idle(arguments, {"--measure-figures"}, "is for one person's measures, and a size set takes none",
              "ask for it without --size-set");
  const auto count = static_cast<int>(arguments.whole("--size-set", 4, 1, outline::most_sizes));
  const Figure fit =
      arguments.figure_if("--size-fit", Dimension::ratio, fit_limits).value_or(outline::usual_fit());
  const outline::SizeSet set =
      outline::size_set(library.design(word), library, count, fit, side_from(arguments));
  deliver_drawing(report::size_set_drawing(set), outline_drawing, arguments, session);
  return session.deliver(report::size_set_report(library.design(word), set, stamp(library)), arguments);
}

/// Writes them if they are asked for; true if nothing else can be, because no measure is given yet.
bool deliver_measure_figures(const Arguments& arguments, const library::Library& library, Session& session) {
  const auto path = arguments.text_if("--measure-figures");
  if (!path) return false;
  const std::string& word = arguments.positionals().front();
  if (is_outline_file(word))
    refuse_usage("--measure-figures", "a file is not drawn from measures", "name a design of the library");
  const library::Design& design = library.design(word);
  const bool only_figures = measures_from(arguments).empty();
  if (only_figures)
    refuse_idle(
        arguments,
        {"--side", outline_drawing.svg, outline_drawing.dxf, outline_drawing.pdf, "--paper", "--draw"},
        "is for the outline, and no measure is given to draw it from", "leave it out, or give the measures");
  session.deliver_file(
      *path, report::to_svg(report::measure_sketches(design, library), "Measures for: " + design.name),
      arguments);
  return only_figures;
}

/// What cannot apply to what was named.
void refuse_idle_options(const Arguments& arguments) {
  if (is_outline_file(arguments.positionals().front())) {
    refuse_idle(arguments, design_options(), "a file is drawn already and takes no measure",
                "name a design, or leave it out");
    refuse_idle_file_options(arguments, arguments.positionals());
  } else
    refuse_idle(arguments, file_options(), "is for a file, and a design is drawn from measures",
                "name a file, or leave it out");
  if (!arguments.flag("--size-set"))
    refuse_idle(arguments, {"--size-fit"}, "is for a size set, and none is asked for",
                "add --size-set N, or leave it out");
  refuse_idle_paper(arguments, {outline_drawing.pdf});
}

int list(const Arguments& arguments, Session& session) {
  if (!arguments.positionals().empty())
    refuse_usage("--list", "lists every design, and one is named", "leave out one of the two");
  constexpr const char* why = "is for one design or file, and --list lists the designs";
  refuse_idle(arguments, file_options(), why, "leave out one of the two");
  refuse_idle(arguments, design_options(), why, "leave out one of the two");
  refuse_idle(arguments,
              {"--side", "--size-set", "--size-fit", "--measure-figures", outline_drawing.svg,
               outline_drawing.dxf, outline_drawing.pdf, "--paper", "--draw"},
              why, "leave out one of the two");
  const library::Library library = session.load_library(arguments);
  return session.deliver(report::designs_report(library, stamp(library)), arguments);
}

int run(const Arguments& arguments, Session& session) {
  if (arguments.flag("--list")) return list(arguments, session);
  if (arguments.positionals().empty())
    refuse_usage("", "DESIGN or FILE is missing", "the designs are listed by: warmsheet outline --list");
  if (arguments.positionals().size() > 1)
    refuse_usage("", "one outline at a time", "see: warmsheet outline --help");
  refuse_idle_options(arguments);
  const library::Library library = session.load_library(arguments);
  if (arguments.text_if("--size-set")) return run_size_set(arguments, library, session);
  if (deliver_measure_figures(arguments, library, session))
    return session.deliver(
        report::measures_report(library.design(arguments.positionals().front()), library, stamp(library)),
        arguments);
  const outline::Outline outline = outline_from(arguments.positionals().front(), arguments, library);
  refuse_idle_measures(arguments, {&outline});
  deliver_drawing(report::outline_drawing(outline), outline_drawing, arguments, session);
  return session.deliver(report::outline_report(outline, stamp(library)), arguments);
}

std::vector<OptionGroup> groups() {
  std::vector<OptionGroup> all = outline_source_options();
  all.insert(all.begin(), {"Designs", {{"--list", "", "list the designs, with what each is for"}}});
  all.push_back({"Sizes",
                 {{"--size-set", "N", "paper patterns in N sizes for adults, with the share each fits"},
                  {"--size-fit", "SHARE", "how far a measure may be off the size's: \"12 %\""}}});
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
        "With the id of a design it draws the outline for one person's measures, or in sizes for many; with "
        "a file (.svg, .dxf, .csv, .toml, a scan as .png, .jpg or .pgm, a photo of a sheet of paper) it "
        "reads a traced one. Curves are followed to the stated tolerance; what does not close or crosses "
        "itself is refused with the place.",
    .positional = "DESIGN or FILE",
    .positional_help = "a design of the library, or an outline file",
    .examples = {"warmsheet outline --list",
                 "warmsheet outline long-thumb --measure-figures how-to-measure.svg",
                 "warmsheet outline volar-wrist --measures examples/wrist/measures.toml",
                 "warmsheet outline examples/outlines/volar-wrist-traced.svg --pdf wrist.pdf",
                 "warmsheet outline hand-thumb --size-set 3 --pdf sizes.pdf",
                 "warmsheet outline examples/outlines/dorsal-wrist-traced.csv --traced right --side left"},
    .groups = groups(),
    .run = run};

}  // namespace warmsheet::cli
