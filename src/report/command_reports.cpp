// SPDX-License-Identifier: MIT
#include "report/command_reports.h"

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "plan/cautions.h"
#include "report/choose_report.h"
#include "report/drawings.h"
#include "report/measure_sketch.h"
#include "report/sections.h"

namespace warmsheet::report {
namespace {

Table cost_table(const plan::Cost& cost) {
  Table table{{Phrase("what"), Phrase("how much"), Phrase("price each"), Phrase("cost")}, {}};
  for (const plan::CostLine& line : cost.lines)
    table.rows.push_back(
        {Phrase(Label(line.what)), Phrase(line.amount), Phrase(line.price), Phrase(line.cost)});
  return table;
}

Section cost_section(const plan::Plan& plan) {
  Section section{
      "Cost of material",
      {cost_table(plan.cost), facts_of(plan.cost.results()),
       Paragraph{
           Phrase("Prices are for a sheet, a piece, a metre or a square metre. Labour is not "
                  "priced. Without offcuts the rest of each new sheet is thrown away; what a kept offcut "
                  "cost is counted neither way.")}}};
  if (!plan.job.outline)
    section.blocks.emplace_back(
        Paragraph{Phrase("Only the area is known, so straps and edging are not in the cost.")});
  else if (plan.job.outline->straps.empty())
    section.blocks.emplace_back(
        Paragraph{Phrase("The pattern places no straps, so they are not in the cost.")});
  if (plan.job.outline && plan.job.edging.empty() && plan.situation.perforation.holes)
    section.blocks.emplace_back(Paragraph{
        Phrase("Edging for the edge with holes is not in the cost, because the job names none (edging).")});
  const auto& asked = plan.job.precautions;
  if (plan.job.lining.empty() && std::find(asked.begin(), asked.end(), "fragile-skin") != asked.end())
    section.blocks.emplace_back(Paragraph{
        Phrase("Lining for fragile skin is not in the cost, because the job names none (lining).")});
  return section;
}

Paragraph copies_note() {
  return {
      Phrase("The steps, their clock and the mass are those of one; the cut list and the cost are for all "
             "copies.")};
}

Section steps_section(const plan::Plan& plan, bool explained) {
  Steps steps;
  for (const plan::BenchStep& step : plan.steps)
    steps.steps.push_back(
        {step.clock, step.action, explained ? say("{} Why: {}", step.detail, step.why) : step.detail});
  Paragraph sheet{say("Sheet: {} ({}), {} thick.", Label(plan.sheet->name), Label(plan.stock->key()),
                      plan.situation.thickness)};
  Section section{"Bench plan", {std::move(sheet)}};
  if (plan.job.copies > 1) section.blocks.emplace_back(copies_note());
  section.blocks.emplace_back(std::move(steps));
  std::vector<NamedFinding> facts{{"bench_time", plan.bench_time}, {"mass", plan.mass}};
  move_into(facts, plan.copies_results());
  section.blocks.emplace_back(facts_of(facts));
  return section;
}

Section questions_section(const plan::Plan& plan) {
  Table table{{Phrase("question"), Phrase("what the plan says")}, {}};
  for (const plan::Question& question : plan.questions)
    table.rows.push_back({question.asks, question.answer});
  return {"Before you touch hot sheet",
          {Paragraph{Phrase("Cover the right column, answer aloud, then look. What you cannot answer, ask.")},
           std::move(table)}};
}

/// How each result is worked out, and the weakest figure below it; neighbours that share both share a row.
Section numbers_section(const std::vector<NamedFinding>& results) {
  Table table{{Phrase("numbers"), Phrase("how they are worked out"), Phrase("weakest input")}, {}};
  std::string last;
  for (const NamedFinding& result : results) {
    if (!result.finding.known() || result.finding.figure().how().empty()) continue;
    const Figure& figure = result.finding.figure();
    const Figure weakest = figure.leaves().front();
    const std::string way = figure.how() + weakest.name();
    if (way == last)
      table.rows.back().front().append(say(", {}", Label(spaced(result.name))));
    else
      table.rows.push_back({Phrase(Label(spaced(result.name))), Phrase(Label(figure.how())),
                            say("{}: {}", Label(weakest.name()), weakest)});
    last = way;
  }
  return {"Why each number", {std::move(table)}};
}

Section area_section(const plan::Plan& plan) {
  return {"Cut list",
          {facts_of(plan.estimate->results()),
           Paragraph{Phrase(
               "Only the area of the pattern is known, so the cut list is an estimate with the range shown. "
               "Draw or read an outline to get a layout.")}}};
}

/// For which side it is, as asked or as drawn without being asked; nothing if nobody knows.
std::optional<std::string> side_of(const plan::Job& job) {
  const auto side = job.outline ? job.outline->side : job.side;
  if (!side) return std::nullopt;
  return std::string(outline::side_word(*side)) + (job.side ? "" : " (no side is named)");
}

std::vector<Input> plan_inputs(const plan::Plan& plan) {
  std::vector<Input> inputs{{"label", plan.job.label}};
  if (plan.choice) inputs.push_back({"condition", plan.choice->condition->id});
  if (const auto side = side_of(plan.job)) inputs.push_back({"side", *side});
  if (plan.job.push) inputs.push_back({"push", Finding(*plan.job.push)});
  if (!plan.job.precautions.empty()) inputs.push_back({"precautions", join(plan.job.precautions, ", ")});
  move_into(inputs, std::vector<Input>{{"stock", plan.job.stock},
                                       {"copies", std::to_string(plan.job.copies)},
                                       {"spacing", Finding(plan.job.spacing)},
                                       {"margin", Finding(plan.job.margin)}});
  move_into(inputs, timing_inputs(plan.situation));
  return inputs;
}

}  // namespace

Document outline_report(const outline::Outline& outline, LibraryStamp stamp) {
  std::vector<Caution> cautions = plan::outline_cautions(outline);
  if (!outline.measures.empty()) move_into(cautions, plan::measuring_cautions());
  move_into(cautions, plan::cutting_cautions());
  Document document("outline", "Outline: " + outline.name, with_standing(std::move(cautions)),
                    std::move(stamp));
  document.inputs = {{"outline", outline.name}};
  if (outline.side) document.inputs.push_back({"side", std::string(outline::side_word(*outline.side))});
  document.results = plan::outline_results(outline);
  document.sections = {outline_section(outline, Detail::whole)};
  if (!outline.measures.empty()) document.sections.push_back(measures_section(outline));
  return document;
}

Document designs_report(const library::Library& library, LibraryStamp stamp) {
  Document document("outline", "Designs", plan::standing_cautions(), std::move(stamp));
  Table table{{Phrase("id"), Phrase("what it does"), Phrase("it is not")}, {}};
  RecordArray array{"designs", {}};
  for (const auto& [id, design] : library.designs) {
    table.rows.push_back({Phrase(Label(id)), Phrase(Label(design.about)),
                          Phrase(Label(design.is_not ? design.is_not->says : ""))});
    array.records.push_back({{{"id", id}, {"name", design.name}, {"measures", design.measures}}});
  }
  document.sections = {
      {"Designs",
       {table, Paragraph{Phrase("How the measures of one are taken: warmsheet outline DESIGN "
                                "--measure-figures FILE.svg")}}}};
  document.arrays = {std::move(array)};
  return document;
}

Document measures_report(const library::Design& design, const library::Library& library, LibraryStamp stamp) {
  Document document("outline", "Measures for: " + design.name, with_standing(plan::measuring_cautions()),
                    std::move(stamp));
  document.inputs = {{"outline", design.id}};
  for (const char* name : {"area", "width", "height", "perimeter", "holes"})
    document.results.push_back({name, Finding::absent("no measures were given yet")});
  Section section{"Measures to take", {}};
  for (Sketch& sketch : measure_sketches(design, library)) section.blocks.emplace_back(std::move(sketch));
  document.sections = {std::move(section)};
  return document;
}

Document timing_report(const library::Library& library, const heat::Situation& situation,
                       const heat::Timing& timing, LibraryStamp stamp) {
  Document document("timing", "Timing of " + situation.sheet->name,
                    with_standing(plan::heat_cautions(situation, timing, library.bench_times)),
                    std::move(stamp));
  document.inputs = timing_inputs(situation);
  document.results = timing.results();
  document.sections =
      timing_sections(situation, timing, plan::compare_with_practice(situation, timing), Detail::whole);
  document.answer_is_no = !timing.safe_window();
  return document;
}

Document plan_report(const plan::Plan& plan, bool explained, LibraryStamp stamp) {
  Document document("plan", "Bench plan: " + plan.job.label, plan.cautions, std::move(stamp));
  const Detail detail = explained ? Detail::whole : Detail::to_act_on;
  document.inputs = plan_inputs(plan);
  document.results = plan.results();
  document.sections = {steps_section(plan, explained)};
  if (explained) document.sections.insert(document.sections.begin(), questions_section(plan));
  if (plan.choice) {
    document.sections.push_back(taken_section(*plan.choice, *plan.stock));
    document.sections.push_back(starting_section(*plan.choice->condition));
    document.arrays.push_back(ranking_array(*plan.choice));
  }
  if (plan.job.outline) document.sections.push_back(outline_section(*plan.job.outline, detail));
  if (plan.cutting) {
    move_into(document.sections, cutting_sections(*plan.cutting, plan.job.margin));
    move_into(document.arrays, cutting_arrays(*plan.cutting));
  } else {
    document.sections.push_back(area_section(plan));
  }
  document.sections.push_back(cost_section(plan));
  move_into(document.sections, timing_sections(plan.situation, plan.timing, plan.practice, detail));
  if (explained) document.sections.push_back(numbers_section(document.results));
  document.answer_is_no = !plan.feasible();
  return document;
}

}  // namespace warmsheet::report
