// SPDX-License-Identifier: MIT
#include "plan/plan.h"

#include <utility>

#include "choice/stiffness.h"
#include "plan/cautions.h"
#include "plan/condition.h"

namespace warmsheet::plan {
namespace {

SheetSize sheet_size(const library::StockItem& stock) {
  return {stock.key(), stock.width, stock.length, stock.price};
}

std::optional<Cutting> cutting_of(const library::Library& library, const Job& job,
                                  const library::StockItem& stock, const nesting::Effort& effort) {
  if (!job.outline) return std::nullopt;
  return cut({.items = {{*job.outline, job.copies}},
              .sheets = {sheet_size(stock)},
              .offcuts = job.offcuts,
              .spacing = job.spacing,
              .margin = job.margin,
              .rotations = job.rotations,
              .may_flip = !library.sheet(stock.sheet).face_side,
              .effort = effort,
              .keep = KeepLimits::usual(library.cutting)});
}

Cost cost_for(const library::Library& library, const Job& job, const library::StockItem& stock,
              const std::optional<Cutting>& cutting, const std::optional<AreaEstimate>& estimate) {
  return cost_of({.stock = &stock,
                  .cutting = cutting ? &*cutting : nullptr,
                  .estimate = estimate ? &*estimate : nullptr,
                  .outline = job.outline ? &*job.outline : nullptr,
                  .copies = job.copies,
                  .area = *job.area,
                  .edging = job.edging.empty() ? nullptr : &library.fixing(job.edging),
                  .lining = job.lining.empty() ? nullptr : &library.fixing(job.lining),
                  .library = &library});
}

void add(Range& sum, const Figure& figure) {
  sum.value += figure.si();
  sum.low += figure.low_si();
  sum.high += figure.high_si();
}

/// In the bath until half soft, cutting, in the bath again, the time on the limb, and the cold work after it.
/// It goes on setting while the bench is cleared; the skin check is worn time, not work.
Finding bench_time_of(const heat::Timing& timing, const Finding& comes_off,
                      const library::BenchTimes& times) {
  if (!timing.safe_window()) return Finding::absent("there is no safe window to work in");
  Range sum = Range::exactly(0.0);
  std::vector<Figure> parts{times.cut, times.trim, times.strap};
  for (const Finding* finding : {&timing.half_soft, &timing.ready, &comes_off})
    parts.push_back(finding->figure());
  for (const Figure& part : parts) add(sum, part);
  return Figure::derived(
      "bench_time", sum, units::second(),
      "in the bath until half soft, cutting, in the bath until ready, until it comes off the "
      "limb, trimming and strapping, one after the other",
      std::move(parts));
}

Figure mass_of(const heat::Situation& situation, const Figure& area) {
  const Figure& thickness = situation.thickness;
  const Figure& density = situation.sheet->thermal.density;
  std::vector<Figure> inputs{area, thickness, density};
  Range open = Range::exactly(0.0);
  if (situation.perforation.holes) {
    open = situation.perforation.holes->open_area.range_si();
    inputs.push_back(situation.perforation.holes->open_area);
  }
  return Figure::derived(
      "mass",
      {choice::sheet_mass_kg(area.si(), thickness.si(), density.si(), open.value),
       choice::sheet_mass_kg(area.low_si(), thickness.low_si(), density.low_si(), open.high),
       choice::sheet_mass_kg(area.high_si(), thickness.high_si(), density.high_si(), open.low)},
      units::gram(), "area x thickness x density x solid share", std::move(inputs));
}

Finding times(const Finding& finding, const char* name, double factor, const char* how) {
  if (!finding.known()) return finding;
  const Figure& figure = finding.figure();
  return Figure::derived(name, figure.range_si().times(factor), figure.unit(), how, {figure});
}

void append(std::vector<Caution>& cautions, std::vector<Caution> more) {
  for (Caution& caution : more) cautions.push_back(std::move(caution));
}

std::vector<Caution> cautions_of(const library::Library& library, const Job& job,
                                 const heat::Situation& situation, const heat::Timing& timing,
                                 const std::vector<PracticeComparison>& practice,
                                 const choice::Choice* choice, const library::StockItem& stock,
                                 const Figure& form_time) {
  std::vector<Caution> cautions = skin_cautions(library, *situation.skin, job.precautions);
  append(cautions, heat_cautions(situation, timing, library.bench_times));
  append(cautions, haste_cautions(timing.window, form_time));
  append(cautions, practice_cautions(practice, timing, form_time));
  if (job.outline) append(cautions, outline_cautions(*job.outline));
  append(cautions, precaution_cautions(job.precautions));
  if (choice) {
    append(cautions, condition_cautions(*choice->condition));
    if (job.outline) append(cautions, design_cautions(library, *choice->condition, *job.outline));
    append(cautions, choice_cautions(*choice, stock, job.precautions));
  }
  append(cautions, cutting_cautions());
  append(cautions, standing_cautions());
  return cautions;
}

void append(std::vector<NamedFinding>& results, const std::vector<NamedFinding>& more) {
  results.insert(results.end(), more.begin(), more.end());
}

}  // namespace

std::vector<NamedFinding> outline_results(const outline::Outline& outline) {
  return {{"area", outline.area},
          {"width", outline.width},
          {"height", outline.height},
          {"perimeter", outline.perimeter},
          {"holes", outline.holes}};
}

bool Plan::feasible() const {
  return timing.safe_window() && (!cutting || cutting->complete());
}

std::vector<NamedFinding> Plan::copies_results() const {
  if (job.copies == 1) return {};
  return {
      {"cost_each", times(cost.total, "cost_each", 1.0 / job.copies, "cost of all copies over their number")},
      {"bench_time_of_all",
       times(bench_time, "bench_time_of_all", job.copies, "that of one times copies, one after the other")},
      {"mass_of_all", times(mass, "mass_of_all", job.copies, "that of one times copies")}};
}

std::vector<NamedFinding> Plan::results() const {
  std::vector<NamedFinding> results = timing.results();
  if (job.outline) append(results, outline_results(*job.outline));
  if (!job.outline) results.push_back({"area", *job.area});
  append(results, cutting ? cutting->results() : estimate->results());
  append(results, cost.results());
  append(results, {{"bench_time", bench_time}, {"mass", mass}});
  append(results, copies_results());
  return results;
}

Plan make_plan(const library::Library& library, Job job, const nesting::Effort& effort) {
  std::optional<choice::Choice> choice;
  if (!job.condition.empty()) choice = choose_for(library, job);
  const library::StockItem& stock = stock_for(library, job, choice ? &*choice : nullptr);
  job.stock = stock.key();
  job.heat.sheet = stock.sheet;
  job.heat.stock_item = stock.id;
  const library::Sheet& sheet = library.sheet(stock.sheet);
  const heat::Situation situation = heat::resolve(library, job.heat);
  heat::Timing timing = heat::time(situation);
  std::optional<Cutting> cutting = cutting_of(library, job, stock, effort);
  std::optional<AreaEstimate> estimate;
  if (!cutting)
    estimate = estimate_by_area(*job.area, job.copies, sheet_size(stock), library.cutting.usual_utilisation);
  Cost cost = cost_for(library, job, stock, cutting, estimate);
  const Figure form_time = form_time_of(library, job, choice ? choice->condition : nullptr);
  const StepContext context{.situation = &situation,
                            .timing = &timing,
                            .outline = job.outline ? &*job.outline : nullptr,
                            .library = &library,
                            .form_time = form_time,
                            .edging = !job.edging.empty(),
                            .lining = !job.lining.empty(),
                            .precautions = job.precautions,
                            .copies = job.copies,
                            .condition = choice ? choice->condition : nullptr};
  std::vector<BenchStep> steps = bench_steps(context);
  std::vector<Question> questions = questions_before_heat(context);
  std::vector<PracticeComparison> practice = compare_with_practice(situation, timing);
  std::vector<Caution> cautions =
      cautions_of(library, job, situation, timing, practice, choice ? &*choice : nullptr, stock, form_time);
  Finding bench_time = bench_time_of(timing, comes_off(timing, job.precautions), library.bench_times);
  Figure mass = mass_of(situation, *job.area);
  return {.job = std::move(job),
          .sheet = &sheet,
          .stock = &stock,
          .choice = std::move(choice),
          .situation = situation,
          .timing = std::move(timing),
          .cutting = std::move(cutting),
          .estimate = std::move(estimate),
          .cost = std::move(cost),
          .practice = std::move(practice),
          .steps = std::move(steps),
          .questions = std::move(questions),
          .bench_time = std::move(bench_time),
          .mass = std::move(mass),
          .cautions = std::move(cautions)};
}

}  // namespace warmsheet::plan
