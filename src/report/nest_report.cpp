// SPDX-License-Identifier: MIT
#include <utility>

#include "plan/cautions.h"
#include "report/command_reports.h"
#include "report/sections.h"

namespace warmsheet::report {
namespace {

/// What was to be placed, and on what: names may repeat, so these are lists.
RecordArray outlines_array(const plan::CutRequest& request) {
  RecordArray outlines{"outlines", {}};
  for (const plan::CutItem& item : request.items)
    outlines.records.push_back({{{"outline", item.outline.name},
                                 {"copies", static_cast<std::int64_t>(item.copies)},
                                 {"area", Finding(item.outline.area)},
                                 {"group", item.group},
                                 {"priority", static_cast<std::int64_t>(item.priority)}}});
  return outlines;
}

RecordArray sheets_array(const plan::CutRequest& request) {
  RecordArray sheets{"sheets", {}};
  for (const plan::SheetSize& sheet : request.sheets) {
    Record record{
        {{"sheet", sheet.name}, {"length", Finding(sheet.length)}, {"width", Finding(sheet.width)}}};
    if (sheet.count) record.fields.emplace_back("count", static_cast<std::int64_t>(*sheet.count));
    sheets.records.push_back(std::move(record));
  }
  return sheets;
}

std::vector<Input> inputs_of(const plan::CutRequest& request,
                             const std::optional<plan::BlankCutting>& blanks) {
  std::vector<Input> inputs{{"spacing", Finding(request.spacing)},
                            {"margin", Finding(request.margin)},
                            {"keep_side", Finding(request.keep.least_side)},
                            {"keep_area", Finding(request.keep.least_area)},
                            {"flip", std::string(request.may_flip ? "yes" : "no")},
                            {"seed", std::to_string(request.effort.seed)}};
  if (request.laid) inputs.push_back({"laid", request.laid->file});
  if (request.start) inputs.push_back({"start", request.start->file});
  if (blanks) inputs.push_back({"kerf", Finding(blanks->kerf)});
  return inputs;
}

std::vector<Caution> cautions_of(const plan::CutRequest& request) {
  std::vector<Caution> cautions;
  for (const plan::CutItem& item : request.items) move_into(cautions, plan::outline_cautions(item.outline));
  move_into(cautions, plan::cutting_cautions());
  return with_standing(std::move(cautions));
}

}  // namespace

Document nest_report(const plan::CutRequest& request, const plan::Cutting& cutting,
                     const std::optional<plan::BlankCutting>& blanks, LibraryStamp stamp) {
  Document document("nest", "Cut list", cautions_of(request), std::move(stamp));
  document.inputs = inputs_of(request, blanks);
  document.results = cutting.results();
  document.arrays = cutting_arrays(cutting);
  if (blanks) {
    document.sections = blank_sections(cutting, *blanks);
    move_into(document.arrays, blank_arrays(cutting, *blanks));
  }
  move_into(document.sections, cut_list_sections(cutting, request.margin));
  document.arrays.push_back(outlines_array(request));
  document.arrays.push_back(sheets_array(request));
  document.answer_is_no = !cutting.complete() || (blanks && !blanks->complete());
  return document;
}

Document nest_estimate_report(const Figure& area, int copies, const plan::SheetSize& sheet,
                              const plan::AreaEstimate& estimate, LibraryStamp stamp) {
  Document document("nest", "Sheets for a pattern known by its area", with_standing(plan::cutting_cautions()),
                    std::move(stamp));
  document.inputs = {{"area", Finding(area)}, {"copies", std::to_string(copies)}, {"sheet", sheet.name}};
  document.results = estimate.results();
  document.sections = {
      {"Estimate",
       {Paragraph{Phrase(
           "The shape is not known: the sheet share is the area over the part of a sheet that usually "
           "becomes orthosis, with that part's range; the sheets used are the same in whole sheets.")}}}};
  document.arrays = {{"placements", {}}, {"offcuts", {}}};
  return document;
}

}  // namespace warmsheet::report
