// SPDX-License-Identifier: MIT
#include "cli/command.h"
#include "cli/session.h"
#include "cli/situation_options.h"
#include "report/command_reports.h"
#include "report/plots.h"
#include "report/writers.h"

namespace warmsheet::cli {
namespace {

/// "curves.svg" becomes "curves-bath-curve.svg" and so on: one file a plot.
void deliver_plots(const heat::Timing& timing, const Arguments& arguments, Session& session) {
  const auto path = arguments.text_if("--svg");
  if (!path) return;
  const std::size_t dot = path->ends_with(".svg") ? path->size() - 4 : path->size();
  for (const report::Plot& plot : report::timing_plots(timing))
    session.deliver_file(path->substr(0, dot) + "-" + plot.id + ".svg", report::to_svg(plot), arguments);
}

int run(const Arguments& arguments, Session& session) {
  const heat::Request request = situation_request(arguments);
  const library::Library library = session.load_library(arguments);
  const heat::Situation situation = heat::resolve(library, request);
  const heat::Timing timing = heat::time(situation);
  deliver_plots(timing, arguments, session);
  return session.deliver(report::timing_report(library, situation, timing, stamp(library)), arguments);
}

std::vector<OptionGroup> groups() {
  std::vector<OptionGroup> all = situation_option_groups();
  all.push_back({"Curves",
                 {{"--svg", "FILE",
                   "one file a curve: FILE-bath-curve.svg, FILE-front-curve.svg, FILE-cooling-curve.svg, "
                   "FILE-skin-curve.svg and, if "
                   "there is any, FILE-damage-curve.svg"}}});
  return all;
}

}  // namespace

extern const Command timing_command{
    .name = "timing",
    .summary = "bath, wait before skin, working window, setting, skin temperature",
    .about =
        "Works out how long the sheet needs in the bath, when it may first touch skin, how long it can be "
        "shaped, and when it holds, with ranges, the highest skin temperature and the burn damage integral. "
        "Practice figures stand beside the model's.",
    .positional = "",
    .positional_help = "",
    .examples = {"warmsheet timing --sheet elastic-clear --thickness \"1/8 in\" --bath \"70 C\"",
                 "warmsheet timing --sheet elastic-clear --perforation micro --skin thin --liner stockinette",
                 "warmsheet timing --sheet elastic-clear --why window"},
    .groups = groups(),
    .run = run};

}  // namespace warmsheet::cli
