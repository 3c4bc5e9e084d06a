// SPDX-License-Identifier: MIT
#include <filesystem>

#include "base/problem.h"
#include "cli/command.h"
#include "cli/drawing_options.h"
#include "cli/interrupt.h"
#include "cli/session.h"
#include "plan/plan.h"
#include "report/command_reports.h"
#include "report/drawings.h"
#include "report/notes_form.h"

namespace warmsheet::cli {
namespace {

/// The form is filled in by hand: what lies there already may hold somebody's times.
std::optional<std::string> new_notes(const Arguments& arguments) {
  const auto path = arguments.text_if("--notes");
  std::error_code ignored;
  if (path && std::filesystem::exists(*path, ignored))
    throw Failure({Trouble::write,
                   {*path},
                   "is there already, perhaps with your times in it",
                   "name another file for --notes, or move that one away"});
  return path;
}

void refuse_idle_drawings(const Arguments& arguments, const plan::Job& job) {
  if (!job.outline)
    refuse_idle(arguments, {plan_outline_drawing.svg, plan_outline_drawing.dxf, plan_outline_drawing.pdf},
                "the job gives an area only, so there is no outline to draw",
                "give the job a design with measures or an outline file, or leave it out");
  refuse_idle_paper(arguments, {"--pdf", plan_outline_drawing.pdf});
}

int run(const Arguments& arguments, Session& session) {
  if (arguments.positionals().size() > 1) refuse_usage("", "one job at a time", "see: warmsheet plan --help");
  const auto notes = new_notes(arguments);
  nesting::Effort effort = effort_from(arguments);
  const library::Library library = session.load_library(arguments);
  plan::Job job = plan::read_job(arguments.positionals().front(), library);
  job.heat.seed = effort.seed;
  job.heat.threads = effort.threads;
  refuse_idle_drawings(arguments, job);
  const InterruptWatch watch;
  const plan::Plan plan = plan::make_plan(library, std::move(job), effort);
  const report::Document document = report::plan_report(plan, arguments.flag("--explain"), stamp(library));
  if (plan.job.outline)
    deliver_drawing(report::outline_drawing(*plan.job.outline), plan_outline_drawing, arguments, session);
  if (const auto path = arguments.text_if("--pdf"))
    session.deliver_file(*path, report::to_pdf(document, paper_from(arguments)), arguments);
  if (notes) session.deliver_file(*notes, report::notes_form(plan), arguments);
  return session.deliver(document, arguments);
}

}  // namespace

extern const Command plan_command{
    .name = "plan",
    .summary = "one orthosis from a job file: outline, cut list, timed steps, cost",
    .about =
        "Reads a job file (TOML: a label, the pattern, the stock or a condition to choose it for, bath, "
        "skin), and writes the bench plan: cautions first, timed steps, cut list with drawings, straps, cost "
        "of material. The job holds no identity of a person.",
    .positional = "JOB.toml",
    .positional_help = "the job file; see examples/",
    .positional_required = true,
    .examples = {"warmsheet plan examples/wrist/job.toml", "warmsheet plan examples/condition/job.toml",
                 "warmsheet plan examples/wrist/job.toml --html plan.html",
                 "warmsheet plan examples/wrist/job.toml --explain --notes notes.toml",
                 "warmsheet plan examples/wrist/job.toml --why window",
                 "warmsheet plan examples/wrist/job.toml --json"},
    .groups = {{"Plan",
                {{"--explain", "",
                  "for somebody who learns the work: questions first, the reason of each step and number"},
                 {"--notes", "FILE", "write a form for your own stopwatch times, which calibrate reads"},
                 {"--pdf", "FILE", "also write the whole plan as PDF"}}},
               drawing_option_group(plan_outline_drawing),
               effort_options()},
    .run = run};

}  // namespace warmsheet::cli
