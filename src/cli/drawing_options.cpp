// SPDX-License-Identifier: MIT
#include "cli/drawing_options.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/parallel.h"
#include "cli/interrupt.h"
#include "report/writers.h"

namespace warmsheet::cli {
namespace {

constexpr std::int64_t most_passes = 1'000'000;
constexpr std::int64_t most_threads = 64;

}  // namespace

OptionGroup drawing_option_group(const DrawingOptions& options) {
  return {"Drawings",
          {{options.svg, "FILE",
            options.of_sheets ? "the cut sheets, 1 user unit = 1 mm" : "the outline, 1 user unit = 1 mm"},
           {options.dxf, "FILE", "the same as R12 DXF in millimetres, with a reference square"},
           {options.pdf, "FILE", "the same at 1:1 in tiles, with a page map and boxes to measure"},
           {"--paper", "a4|letter", "of PDF files"},
           {"--draw", "", "draw in the terminal, in characters"}}};
}

void deliver_drawing(const report::Drawing& drawing, const DrawingOptions& options,
                     const Arguments& arguments, Session& session) {
  if (const auto path = arguments.text_if(options.svg))
    session.deliver_file(*path, report::to_svg(drawing), arguments);
  if (const auto path = arguments.text_if(options.dxf))
    session.deliver_file(*path, report::to_dxf(drawing), arguments);
  if (const auto path = arguments.text_if(options.pdf))
    session.deliver_file(*path, report::to_pdf_tiles(drawing, paper_from(arguments)), arguments);
}

void refuse_idle_paper(const Arguments& arguments, const std::vector<std::string_view>& pdf_options) {
  const bool used = std::any_of(pdf_options.begin(), pdf_options.end(),
                                [&](std::string_view option) { return arguments.flag(option); });
  if (!used)
    refuse_idle(arguments, {"--paper"}, "is for PDF files, and none is written",
                fmt::format("add {} FILE, or leave it out", pdf_options.front()));
}

report::Paper paper_from(const Arguments& arguments) {
  const std::string paper = arguments.choice_if("--paper", {"a4", "letter"}).value_or("a4");
  return paper == "a4" ? report::Paper::a4 : report::Paper::letter;
}

OptionGroup effort_options() {
  return {"Search",
          {{"--seed", "N", "another search and other draws; the same seed gives the same result"},
           {"--passes", "N", "how long to search for a tighter layout"},
           {"--threads", "N", "changes the time, never the answer"}}};
}

int threads_from(const Arguments& arguments) {
  return static_cast<int>(arguments.whole("--threads", usual_threads(), 1, most_threads));
}

nesting::Effort effort_from(const Arguments& arguments) {
  nesting::Effort effort;
  effort.seed = seed_from(arguments);
  effort.passes = static_cast<int>(arguments.whole("--passes", effort.passes, 0, most_passes));
  effort.threads = threads_from(arguments);
  effort.stop = [] { return InterruptWatch::interrupted(); };
  return effort;
}

}  // namespace warmsheet::cli
