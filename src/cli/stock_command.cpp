// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>

#include "base/problem.h"
#include "cli/command.h"
#include "cli/drawing_options.h"
#include "cli/interrupt.h"
#include "cli/progress_line.h"
#include "cli/session.h"
#include "report/stock_report.h"
#include "stock/answers.h"
#include "stock/study.h"

namespace warmsheet::cli {
namespace {

constexpr std::int64_t usual_months = 1000;
constexpr std::int64_t most_months = 100'000;
/// The ends of the demand only move the reorder points by whole sheets: a quarter of the months shows that.
constexpr int months_at_the_ends_part = 4;

class StockRun {
 public:
  StockRun(const Arguments& arguments, Session& session)
      : arguments_(arguments), session_(session), library_(session.load_library(arguments)) {
    options_.months = static_cast<int>(arguments.whole("--months", usual_months, 1, most_months));
    if (arguments.text_if("--months")) options_.months_basis = Basis::entered;
    options_.seed = seed_from(arguments);
    options_.workers.threads = threads_from(arguments);
    options_.workers.stop = [] { return InterruptWatch::interrupted(); };
  }

  int run() {
    if (arguments_.positionals().size() != 1)
      refuse_usage("", "one caseload at a time", "see: warmsheet stock --help");
    stock::Caseload caseload = stock::read_caseload(arguments_.positionals().front(), library_);
    if (const auto id = arguments_.text_if("--variant")) caseload = variant(caseload, *id);
    const stock::Dialect dialect = order_list_dialect();
    if (const auto other = arguments_.text_if("--compare")) return compare(caseload, *other);
    return answer(caseload, dialect);
  }

 private:
  [[nodiscard]] stock::Caseload variant(const stock::Caseload& caseload, const std::string& id) const {
    return stock::with_variant(caseload, stock::find_variant(caseload, id), library_);
  }

  stock::Study simulate(const stock::Caseload& caseload, stock::StudyOptions options, std::string_view what) {
    ProgressLine line(session_, arguments_);
    options.workers.progress = [&](double share) {
      line.show(fmt::format("{} {:.0f} %", what, 100.0 * share));
    };
    stock::Study study = stock::study(caseload, library_, options);
    if (study.stopped)
      throw Failure(Problem{Trouble::stopped,
                            {},
                            "interrupted: nothing was written",
                            "simulate fewer --months if it takes too long"});
    return study;
  }

  int answer(const stock::Caseload& caseload, stock::Dialect dialect) {
    const stock::Study middle = simulate(caseload, options_, "simulating");
    std::optional<stock::Study> low;
    std::optional<stock::Study> high;
    if (stock::demand_is_uncertain(caseload)) {
      low = simulate(caseload, at_end(stock::DemandEnd::low, middle), "demand at its low end");
      high = simulate(caseload, at_end(stock::DemandEnd::high, middle), "demand at its high end");
    }
    const stock::Answers answers =
        stock::answers_of(caseload, library_, middle, low ? &*low : nullptr, high ? &*high : nullptr);
    if (const auto path = arguments_.text_if("--csv"))
      session_.deliver_file(*path, report::order_list(answers, dialect), arguments_);
    return session_.deliver(report::stock_report(caseload, answers, stamp(library_)), arguments_);
  }

  [[nodiscard]] stock::StudyOptions at_end(stock::DemandEnd end, const stock::Study& middle) const {
    stock::StudyOptions options = options_;
    options.kinds = &middle.kinds;
    options.months = std::max(1, options_.months / months_at_the_ends_part);
    options.sizes = false;
    options.projections = false;
    options.demand = end;
    return options;
  }

  [[nodiscard]] stock::Dialect order_list_dialect() const {
    const auto word = arguments_.choice_if("--dialect", stock::dialect_words());
    if (word && !arguments_.text_if("--csv"))
      refuse_usage("--dialect", "is for the order list of --csv",
                   "the history's dialect stands in the caseload");
    return stock::dialect_of(word.value_or("comma"));
  }

  int compare(const stock::Caseload& caseload, const std::string& other) {
    if (arguments_.text_if("--csv"))
      refuse_usage("--csv", "a comparison has no order list", "leave out --compare");
    const stock::Caseload second = variant(caseload, other);
    stock::StudyOptions options = options_;
    options.sizes = false;
    options.projections = false;
    const stock::Study first_study = simulate(caseload, options, "the first way");
    options.kinds = &first_study.kinds;
    const stock::Study second_study = simulate(second, options, "the second way");
    const std::string first_name = arguments_.text_if("--variant").value_or("as in the file");
    const stock::Comparison comparison =
        stock::compare(caseload, second, first_name, other, library_, first_study, second_study);
    return session_.deliver(report::stock_comparison_report(caseload, comparison, stamp(library_)),
                            arguments_);
  }

  const Arguments& arguments_;
  Session& session_;
  library::Library library_;
  stock::StudyOptions options_;
};

int run(const Arguments& arguments, Session& session) {
  const InterruptWatch watch;
  return StockRun(arguments, session).run();
}

}  // namespace

extern const Command stock_command{
    .name = "stock",
    .summary = "what to have on the shelf, when to reorder, what a month costs",
    .about =
        "Reads a caseload (TOML: kinds of orthosis and how many a month, the sheets they are cut from, how "
        "these are bought and kept), draws people and orthoses at random, cuts them piece by piece in their "
        "true shapes, and says what to order now, when to order again, how much at once, and what a month "
        "costs and wastes. The same seed gives the same answer on any number of threads.",
    .positional = "CASELOAD.toml",
    .positional_help = "the caseload; every field is explained in examples/clinic/caseload.toml",
    .positional_required = true,
    .examples = {"warmsheet stock examples/clinic/caseload.toml",
                 "warmsheet stock examples/clinic/caseload.toml --csv order.csv --dialect semicolon",
                 "warmsheet stock examples/clinic/caseload.toml --compare weekly",
                 "warmsheet stock examples/clinic/caseload.toml --why cost_per_month"},
    .groups = {{"What to compare",
                {{"--variant", "VARIANT",
                  "another way instead of the file's: as-you-go, weekly, monthly ... or its own"},
                 {"--compare", "VARIANT", "this way beside the first one, with the same orthoses"}}},
               {"Order list",
                {{"--csv", "FILE", "what to order now, for a spreadsheet"},
                 {"--dialect", "comma|semicolon|tab",
                  "of that list; with semicolon, decimals have a comma: 5,68"}}},
               {"Simulation",
                {{"--months", "N", "months to simulate; more of them, narrower intervals"},
                 {"--seed", "N", "other random orthoses; the same seed gives the same answer"},
                 {"--threads", "N", "workers; changes the time, never the answer"}}}},
    .run = run};

}  // namespace warmsheet::cli
