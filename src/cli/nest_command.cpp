// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <charconv>
#include <chrono>
#include <limits>

#include "base/problem.h"
#include "base/quantity.h"
#include "base/text.h"
#include "cli/command.h"
#include "cli/drawing_options.h"
#include "cli/interrupt.h"
#include "cli/outline_options.h"
#include "cli/session.h"
#include "plan/cutting.h"
#include "plan/job.h"
#include "report/command_reports.h"
#include "report/drawings.h"

namespace warmsheet::cli {
namespace {

constexpr int most_copies = 500;

/// "wrist.svg*3": the outline and how many of it.
struct Wanted {
  std::string outline;
  int copies = 1;
};

Wanted wanted_from(const std::string& word) {
  const std::size_t star = word.rfind('*');
  if (star == std::string::npos) return {word, 1};
  const std::string count = word.substr(star + 1);
  Wanted wanted{word.substr(0, star), 0};
  const auto [end, error] = std::from_chars(count.data(), count.data() + count.size(), wanted.copies);
  if (error != std::errc{} || end != count.data() + count.size() || wanted.copies < 1 ||
      wanted.copies > most_copies)
    refuse_usage("", fmt::format("\"{}\" asks for \"{}\" copies", clip(word, 60), clip(count, 20)),
                 fmt::format("write for example wrist.svg*3, at most {}", most_copies));
  return wanted;
}

plan::SheetSize typed_size(const std::string& text) {
  try {
    const WrittenSize size = parse_size(text);
    const Place place{"--sheet-size", 0, 0};
    return {text, Figure::entered("sheet width", Range::exactly(size.height.si), units::millimetre(), place),
            Figure::entered("sheet length", Range::exactly(size.width.si), units::millimetre(), place),
            std::nullopt};
  } catch (const Failure& failure) {
    refuse_usage("--sheet-size", failure.problems().front().message, failure.problems().front().hint);
  }
}

/// "ID" takes every size of that sheet, "ID/STOCK" one.
std::vector<plan::SheetSize> library_sizes(const library::Library& library, const std::string& name) {
  std::vector<plan::SheetSize> sizes;
  const auto add = [&](const library::StockItem& item) {
    sizes.push_back({item.key(), item.width, item.length, item.price});
  };
  if (name.find('/') != std::string::npos)
    add(library.stock_item(name));
  else
    for (const library::StockItem& item : library.sheet(name).stock) add(item);
  return sizes;
}

std::vector<plan::SheetSize> sheets_from(const Arguments& arguments, const library::Library& library) {
  std::vector<plan::SheetSize> sheets;
  for (const std::string& text : arguments.texts("--sheet-size")) sheets.push_back(typed_size(text));
  if (const auto name = arguments.text_if("--sheet"))
    for (plan::SheetSize& size : library_sizes(library, *name)) sheets.push_back(std::move(size));
  if (sheets.empty())
    refuse_usage("--sheet-size", "no sheet to cut from was named",
                 "add --sheet-size \"600 x 450 mm\" or --sheet ID/STOCK; see: warmsheet sheets");
  return sheets;
}

std::vector<plan::Offcut> offcuts_from(const Arguments& arguments, const library::Library& library) {
  std::vector<plan::Offcut> offcuts;
  for (const std::string& word : arguments.texts("--offcut")) {
    const std::string name = Label::ordinal("offcut", offcuts.size()).text();
    if (!is_outline_file(word)) {
      offcuts.push_back(plan::rectangular_offcut(name, word, Place{"--offcut", 0, 0}));
      continue;
    }
    outline::Outline shape = outline_from(word, arguments, library);
    offcuts.push_back({name, std::move(shape.shape), shape.area});
  }
  return offcuts;
}

/// With a clock instead of passes the answer depends on the machine; only cli/ may read one.
void limit_by_clock(nesting::Effort& effort, const Arguments& arguments) {
  constexpr OptionLimits seconds{0.01, 3600.0};
  const auto limit = arguments.figure_if("--seconds", Dimension::duration, seconds);
  if (!limit) return;
  const auto deadline = std::chrono::steady_clock::now() + std::chrono::duration<double>(limit->si());
  effort.passes = std::numeric_limits<int>::max();
  effort.stop = [deadline] {
    return InterruptWatch::interrupted() || std::chrono::steady_clock::now() >= deadline;
  };
}

int run_estimate(const Figure& area, const Arguments& arguments, Session& session,
                 const library::Library& library) {
  const auto sheets = sheets_from(arguments, library);
  const plan::AreaEstimate estimate =
      plan::estimate_by_area(area, 1, sheets.front(), library.cutting.usual_utilisation);
  return session.deliver(report::nest_estimate_report(area, 1, sheets.front(), estimate, stamp(library)),
                         arguments);
}

plan::CutRequest request_from(const Arguments& arguments, const library::Library& library) {
  constexpr OptionLimits gap_m{0.0, 0.1};
  plan::CutRequest request{
      .items = {},
      .sheets = sheets_from(arguments, library),
      .offcuts = offcuts_from(arguments, library),
      .spacing = arguments.figure_if("--spacing", Dimension::length, gap_m).value_or(library.cutting.spacing),
      .margin = arguments.figure_if("--margin", Dimension::length, gap_m).value_or(library.cutting.margin),
      .rotations = {.free = true, .angles_deg = {}},
      .may_flip = arguments.yes_no_if("--flip").value_or(false),
      .effort = effort_from(arguments)};
  if (const auto rotations = arguments.text_if("--rotations"))
    request.rotations = plan::parse_rotations(*rotations);
  for (const std::string& word : arguments.positionals()) {
    const Wanted wanted = wanted_from(word);
    request.items.push_back({outline_from(wanted.outline, arguments, library), wanted.copies});
  }
  limit_by_clock(request.effort, arguments);
  return request;
}

int run(const Arguments& arguments, Session& session) {
  const library::Library library = session.load_library(arguments);
  const auto area = arguments.figure_if("--area", Dimension::area, OptionLimits{1e-4, 10.0});
  if (area.has_value() == !arguments.positionals().empty())
    refuse_usage("", "name outlines to place, or an --area, and not both", "see: warmsheet nest --help");
  if (area) return run_estimate(*area, arguments, session, library);
  const plan::CutRequest request = request_from(arguments, library);
  const InterruptWatch watch;
  const plan::Cutting cutting = plan::cut(request);
  deliver_drawing(report::all_sheets_drawing(cutting, cutting.order.margin_mm), sheets_drawing, arguments,
                  session);
  return session.deliver(report::nest_report(request, cutting, stamp(library)), arguments);
}

std::vector<OptionGroup> groups() {
  std::vector<OptionGroup> all{
      {"Sheets",
       {{"--sheet-size", "WxH", "a sheet to cut from, repeatable: \"600 x 450 mm\"", true},
        {"--sheet", "ID", "all sizes of a library sheet, or one: ID/STOCK"},
        {"--offcut", "FILE or WxH", "a kept offcut, used first, repeatable", true}}},
      {"Cutting",
       {{"--area", "AREA", "only the area is known: an estimate with its range"},
        {"--spacing", "LENGTH", "between outlines"},
        {"--margin", "LENGTH", "from the sheet's edge"},
        {"--rotations", "WORD", "free, none, 90, 180, or a list: \"0 deg, 45 deg\""},
        {"--flip", "yes|no", "outlines may be turned over (only if the sheet has no face side)"},
        {"--seconds", "TIME", "search by the clock instead of passes: \"5 s\""}}},
      effort_options()};
  for (OptionGroup& group : outline_source_options()) all.push_back(std::move(group));
  all.push_back(drawing_option_group(sheets_drawing));
  return all;
}

}  // namespace

extern const Command nest_command{
    .name = "nest",
    .summary = "place outlines on sheets and kept offcuts: cut list and drawing",
    .about =
        "Places true shapes with holes, turned freely, on as few sheets as found, then as close to one end "
        "as found, so that "
        "one clean rest remains. Kept offcuts are used first. Every layout shown has passed an exact check.",
    .positional = "OUTLINE[*N] ...",
    .positional_help = "outline files or designs (with --measures), each with how many",
    .examples = {"warmsheet nest examples/outlines/volar-wrist-traced.svg*4 --sheet-size \"600 x 450 mm\"",
                 "warmsheet nest volar-wrist*2 --measures examples/wrist/measures.toml --sheet draping-white "
                 "--svg cut.svg",
                 "warmsheet nest --area \"410 cm2\" --sheet-size \"18 x 24 in\""},
    .groups = groups(),
    .run = run};

}  // namespace warmsheet::cli
