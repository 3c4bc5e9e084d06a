// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "cli/command.h"
#include "cli/drawing_options.h"
#include "cli/interrupt.h"
#include "cli/nest_options.h"
#include "cli/outline_options.h"
#include "cli/progress_line.h"
#include "cli/session.h"
#include "report/command_reports.h"
#include "report/drawings.h"

namespace warmsheet::cli {
namespace {

int run_estimate(const Figure& area, const Arguments& arguments, Session& session,
                 const library::Library& library) {
  const auto sheets = sheets_from(arguments, library);
  const plan::AreaEstimate estimate =
      plan::estimate_by_area(area, 1, sheets.front(), library.cutting.usual_utilisation);
  return session.deliver(report::nest_estimate_report(area, 1, sheets.front(), estimate, stamp(library)),
                         arguments);
}

std::string progress_text(const nesting::Progress& progress) {
  std::string text = fmt::format("nesting: {:.0f} %, sheets {}", 100.0 * progress.share, progress.sheets);
  if (progress.used_length_mm > 0.0) text += fmt::format(", last one {:.0f} mm", progress.used_length_mm);
  return text + "; ctrl-C ends with the best so far";
}

/// What cannot apply to an area, and what has no file, no design or no PDF to work on.
void refuse_idle_options(const Arguments& arguments) {
  if (!arguments.flag("--blanks"))
    refuse_idle(arguments, {"--kerf"}, "is for straight cuts, and none are asked for",
                "add --blanks, or leave it out");
  if (!arguments.flag("--area")) return refuse_idle_paper(arguments, {sheets_drawing.pdf});
  constexpr const char* why = "an area alone has no shape to place";
  constexpr const char* next = "name outlines instead of --area, or leave it out";
  refuse_idle(arguments, file_options(), why, next);
  refuse_idle(arguments, design_options(), why, next);
  refuse_idle(arguments,
              {"--side",           "--together",       "--pair",           "--first",  "--rotations",
               "--flip",           "--spacing",        "--margin",         "--blanks", "--kerf",
               "--laid",           "--start",          "--offcut",         "--spoilt", "--keep-side",
               "--keep-area",      "--seconds",        "--passes",         "--seed",   "--threads",
               sheets_drawing.svg, sheets_drawing.dxf, sheets_drawing.pdf, "--paper",  "--draw"},
              why, next);
}

void refuse_idle_source_options(const Arguments& arguments, const plan::CutRequest& request) {
  std::vector<const outline::Outline*> outlines;
  for (const plan::CutItem& item : request.items) outlines.push_back(&item.outline);
  const auto drawn = [](const outline::Outline* outline) { return outline->design.has_value(); };
  const bool files = arguments.flag("--offcut") || arguments.flag("--spoilt") ||
                     !std::all_of(outlines.begin(), outlines.end(), drawn);
  if (!files) refuse_idle(arguments, file_options(), "is for a file, and none is named", "leave it out");
  if (std::none_of(outlines.begin(), outlines.end(), drawn))
    refuse_idle(arguments, design_options(), "is for a design, and none is named", "leave it out");
  refuse_idle_measures(arguments, outlines);
}

/// Rectangles are cut from whole rectangles of sheet, each where it wastes least.
void refuse_with_blanks(const Arguments& arguments) {
  struct Other {
    const char* option;
    const char* why;
    const char* next;
  };
  constexpr Other others[] = {
      {"--laid", "straight cuts run right through a sheet, also through what lies on it",
       "cut off the clean rest behind what lies there and give it as --offcut \"300 x 450 mm\""},
      {"--together", "straight cuts take each rectangle from where it wastes least",
       "nest each orthosis by itself with --blanks, or leave --blanks out"},
      {"--first", "straight cuts take the rectangles in no order of need",
       "nest what goes first by itself with --blanks, then the others with its rests as --offcut"}};
  for (const Other& other : others)
    if (!arguments.texts(other.option).empty())
      refuse_usage(other.option, fmt::format("cannot go with --blanks: {}", other.why), other.next);
}

int run(const Arguments& arguments, Session& session) {
  refuse_idle_options(arguments);
  const library::Library library = session.load_library(arguments);
  const auto area = arguments.figure_if("--area", Dimension::area, outline::area_limits_m2);
  if (area.has_value() == !arguments.positionals().empty())
    refuse_usage("", "name outlines to place, or an --area, and not both", "see: warmsheet nest --help");
  if (area) return run_estimate(*area, arguments, session, library);
  const bool straight = arguments.flag("--blanks");
  if (straight) refuse_with_blanks(arguments);
  const InterruptWatch watch;
  plan::CutRequest request = cut_request_from(arguments, library);
  refuse_idle_source_options(arguments, request);
  const plan::Cutting cutting = [&] {
    ProgressLine line(session, arguments);
    request.effort.progress = [&](const nesting::Progress& progress) { line.show(progress_text(progress)); };
    return plan::cut(request);
  }();
  std::optional<plan::BlankCutting> blanks;
  if (straight) blanks = plan::cut_blanks(cutting, kerf_from(arguments));
  deliver_drawing(blanks ? report::all_blanks_drawing(cutting, *blanks)
                         : report::all_sheets_drawing(cutting, cutting.order.margin_mm),
                  sheets_drawing, arguments, session);
  return session.deliver(report::nest_report(request, cutting, blanks, stamp(library)), arguments);
}

std::vector<OptionGroup> groups() {
  std::vector<OptionGroup> all = nest_option_groups();
  OptionGroup search = effort_options();
  search.options.push_back({"--seconds", "TIME", "search by the clock instead of passes: \"5 s\""});
  all.push_back(std::move(search));
  for (OptionGroup& group : outline_source_options()) all.push_back(std::move(group));
  all.push_back(drawing_option_group(sheets_drawing));
  return all;
}

}  // namespace

extern const Command nest_command{
    .name = "nest",
    .summary = "place outlines on sheets and kept offcuts: cut list and drawing",
    .about =
        "Places true shapes with holes, turned freely, on as few sheets as found (the cheapest, where all "
        "sizes have a price), then as close to one end as found, so that one clean rest remains. Kept "
        "offcuts are used first. Every layout shown has passed an exact check.",
    .positional = "OUTLINE[*N] ...",
    .positional_help = "outline files or designs (with --measures), each with how many",
    .examples =
        {"warmsheet nest examples/outlines/volar-wrist-traced.svg*4 --sheet-size \"600 x 450 mm\"",
         "warmsheet nest volar-wrist*2 --measures examples/wrist/measures.toml --sheet draping-white "
         "--svg cut.svg",
         "warmsheet nest examples/outlines/volar-wrist-traced.svg*4 --sheet-size \"600 x 450 mm\" --blanks "
         "--draw",
         "warmsheet nest --area \"410 cm2\" --sheet-size \"18 x 24 in\""},
    .groups = groups(),
    .run = run};

}  // namespace warmsheet::cli
