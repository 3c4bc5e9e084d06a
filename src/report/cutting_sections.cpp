// SPDX-License-Identifier: MIT
// The cut list: what lies where on which sheet, in which order it is cut, and what is left.
#include <algorithm>
#include <iterator>
#include <string>
#include <utility>

#include "base/dimension.h"
#include "nesting/cutting_order.h"
#include "report/drawings.h"
#include "report/sections.h"

namespace warmsheet::report {
namespace {

Figure length_figure(const char* name, double mm, const char* how, const plan::Cutting& cutting) {
  return Figure::derived(name, Range::exactly(mm / mm_per_m), units::millimetre(), how,
                         cutting.sheets_used.rests_on());
}

Phrase turn_of(const plan::Cutting& cutting, const nesting::Placement& placement) {
  const Unit& degrees = *find_unit(Dimension::angle, "deg");
  Phrase turn(Figure::derived("turn", Range::exactly(degrees.to_si(placement.angle_deg)), degrees,
                              "turn in the layout found", cutting.sheets_used.rests_on()));
  if (placement.flipped) turn.append(Phrase(", turned over"));
  return turn;
}

bool lay_already(const plan::Cutting& cutting, const nesting::Placement& placement) {
  const auto is_it = [&](const nesting::Placement& p) {
    return p.piece == placement.piece && p.copy == placement.copy;
  };
  return std::any_of(cutting.order.fixed.begin(), cutting.order.fixed.end(), is_it);
}

Phrase outline_of(const plan::Cutting& cutting, const nesting::Placement& placement) {
  Phrase outline(Label(piece_label(cutting.order, placement.piece, placement.copy)));
  if (lay_already(cutting, placement)) outline.append(Phrase(", lies already"));
  return outline;
}

/// Distances are measured from here: an offcut's own zero may lie anywhere.
outline::Point corner_of(const plan::Cutting& cutting, std::size_t sheet) {
  return cutting.order.stock[cutting.layout.sheets[sheet].stock].shape.box().low;
}

Table placement_table(const plan::Cutting& cutting, std::size_t sheet) {
  Table table{
      {Phrase("cut"), Phrase("outline"), Phrase("turn"), Phrase("from left edge"), Phrase("from lower edge")},
      {}};
  const outline::Point corner = corner_of(cutting, sheet);
  std::size_t number = 0;
  for (const std::size_t index : nesting::cutting_order(cutting.order, cutting.layout, sheet)) {
    const nesting::Placement& placement = cutting.layout.placements[index];
    const outline::Box box = nesting::placed_shape(cutting.order, placement).box();
    const auto at = [&](const char* name, double mm) {
      return length_figure(name, mm, "place in the layout found, to the outline's nearest point", cutting);
    };
    table.rows.push_back({Phrase(Label::ordinal("no.", number++)), outline_of(cutting, placement),
                          turn_of(cutting, placement), at("from_left", box.low.x_mm - corner.x_mm),
                          at("from_lower", box.low.y_mm - corner.y_mm)});
  }
  return table;
}

/// Straight off first, so that it stays clean.
void add_remnant(Section& section, const plan::Cutting& cutting, std::size_t sheet) {
  for (const nesting::Remnant& remnant : cutting.remnants) {
    if (remnant.sheet != sheet) continue;
    const char* how = "clean rest of the sheet behind the used length";
    const Figure length = length_figure("rest_length", remnant.length_mm, how, cutting);
    const Figure width = length_figure("rest_width", remnant.width_mm, how, cutting);
    if (cutting.worth_keeping(remnant))
      section.blocks.push_back(
          Paragraph{say("Clean rest: {} long, {} wide: worth keeping. Cut it off straight before the "
                        "outlines, mark it with the sheet's name and keep it.",
                        length, width)});
    else
      section.blocks.push_back(Paragraph{
          say("Rest: {} long, {} wide: too small to keep by the rule (at least {} each way and {}).", length,
              width, cutting.keep.least_side, cutting.keep.least_area)});
  }
}

Paragraph order_note() {
  return {
      Phrase("Cut in the order of the numbers: what lies in another's opening first, then from the far "
             "end back to the corner, so that you always cut in from a free edge. Distances run from the "
             "sheet's lower left corner to the outline's nearest point.")};
}

void add_state(Section& section, const plan::Cutting& cutting) {
  if (cutting.layout.stopped_early)
    section.blocks.emplace_back(
        Paragraph{Phrase("STOPPED EARLY: the search was ended before its time. This is the best layout found "
                         "until then; it has passed every check.")});
  if (!cutting.prices_left_out.empty())
    section.blocks.emplace_back(Paragraph{
        say("Prices did not count, so the fewest sheets were taken: {}.", Label(cutting.prices_left_out))});
  const double above = cutting.above_bound.si();
  if (above == 0.0 && cutting.complete() && cutting.sheets_used.si() > 0.0)
    section.blocks.emplace_back(
        Paragraph{Phrase("No layout can do with fewer sheets: their number is the proven bound.")});
  if (above > 0.0)
    section.blocks.emplace_back(
        Paragraph{say("The best possible lies between {} and {} sheets; this layout uses {}.", cutting.bound,
                      cutting.sheets_used, cutting.sheets_used)});
}

std::int64_t number_from_one(std::size_t index) {
  return static_cast<std::int64_t>(index) + 1;
}

RecordArray placements_array(const plan::Cutting& cutting) {
  RecordArray placements{"placements", {}};
  std::vector<std::int64_t> order(cutting.layout.placements.size(), 0);
  for (std::size_t sheet = 0; sheet < cutting.layout.sheets.size(); ++sheet) {
    std::int64_t number = 0;
    for (const std::size_t index : nesting::cutting_order(cutting.order, cutting.layout, sheet))
      order[index] = ++number;
  }
  for (std::size_t i = 0; i < order.size(); ++i) {
    const nesting::Placement& p = cutting.layout.placements[i];
    const outline::Point corner = corner_of(cutting, p.sheet);
    const outline::Box box = nesting::placed_shape(cutting.order, p).box();
    placements.records.push_back({{{"outline", cutting.order.pieces[p.piece].name},
                                   {"copy", static_cast<std::int64_t>(p.copy + 1)},
                                   {"sheet", number_from_one(p.sheet)},
                                   {"x_mm", Coordinate{p.move.x_mm}},
                                   {"y_mm", Coordinate{p.move.y_mm}},
                                   {"angle_deg", Coordinate{p.angle_deg}},
                                   {"flipped", p.flipped},
                                   {"from_left_mm", Coordinate{box.low.x_mm - corner.x_mm}},
                                   {"from_lower_mm", Coordinate{box.low.y_mm - corner.y_mm}},
                                   {"cut", order[i]},
                                   {"laid", lay_already(cutting, p)}}});
  }
  return placements;
}

RecordArray offcuts_array(const plan::Cutting& cutting) {
  RecordArray offcuts{"offcuts", {}};
  for (const nesting::Remnant& r : cutting.remnants)
    offcuts.records.push_back({{{"sheet", number_from_one(r.sheet)},
                                {"length_mm", Coordinate{r.length_mm}},
                                {"width_mm", Coordinate{r.width_mm}},
                                {"worth_keeping", cutting.worth_keeping(r)}}});
  return offcuts;
}

RecordArray used_sheets_array(const plan::Cutting& cutting) {
  RecordArray used{"used_sheets", {}};
  for (std::size_t i = 0; i < cutting.layout.sheets.size(); ++i) {
    const nesting::UsedSheet& sheet = cutting.layout.sheets[i];
    const nesting::Stock& stock = cutting.order.stock[sheet.stock];
    used.records.push_back({{{"sheet", number_from_one(i)},
                             {"stock", stock.name},
                             {"offcut", stock.offcut},
                             {"used_length_mm", Coordinate{sheet.used_length_mm}},
                             {"outlines_mm2", Coordinate{sheet.used_area_mm2}}}});
  }
  return used;
}

}  // namespace

Bullets unplaced_list(const nesting::Order& order, const std::vector<nesting::Unplaced>& unplaced) {
  Bullets list;
  for (auto first = unplaced.begin(); first != unplaced.end();) {
    const auto end = std::find_if(first, unplaced.end(), [&](const nesting::Unplaced& one) {
      return one.piece != first->piece || one.reason != first->reason;
    });
    std::string which = piece_label(order, first->piece, first->copy);
    if (end - first > 1) which += " to " + std::to_string(std::prev(end)->copy + 1);
    list.items.push_back(say("DOES NOT FIT: {}: {}", Label(which), Label(first->reason)));
    first = end;
  }
  return list;
}

RecordArray unplaced_array(const char* name, const nesting::Order& order,
                           const std::vector<nesting::Unplaced>& unplaced) {
  RecordArray array{name, {}};
  for (const nesting::Unplaced& one : unplaced)
    array.records.push_back({{{"outline", order.pieces[one.piece].name},
                              {"copy", static_cast<std::int64_t>(one.copy + 1)},
                              {"reason", one.reason}}});
  return array;
}

std::vector<Section> cut_list_sections(const plan::Cutting& cutting, const Figure& margin) {
  std::vector<Section> sections{{"Cut list", {}}};
  add_state(sections.back(), cutting);
  Bullets unplaced = unplaced_list(cutting.order, cutting.layout.unplaced);
  if (!unplaced.items.empty()) sections.back().blocks.emplace_back(std::move(unplaced));
  if (!cutting.layout.placements.empty()) sections.back().blocks.emplace_back(order_note());
  for (std::size_t i = 0; i < cutting.layout.sheets.size(); ++i) {
    const nesting::Stock& stock = cutting.order.stock[cutting.layout.sheets[i].stock];
    Section section{sheet_title(stock, i), {}};
    add_remnant(section, cutting, i);
    section.blocks.emplace_back(placement_table(cutting, i));
    section.blocks.emplace_back(sheet_drawing(cutting, margin.si() * mm_per_m, i));
    sections.push_back(std::move(section));
  }
  return sections;
}

std::vector<Section> cutting_sections(const plan::Cutting& cutting, const Figure& margin) {
  std::vector<Section> sections = cut_list_sections(cutting, margin);
  sections.front().blocks.insert(sections.front().blocks.begin(), facts_of(cutting.results()));
  return sections;
}

std::vector<RecordArray> cutting_arrays(const plan::Cutting& cutting) {
  RecordArray search{"search", {{{{"stopped_early", cutting.layout.stopped_early}}}}};
  return {placements_array(cutting), offcuts_array(cutting), used_sheets_array(cutting),
          unplaced_array("unplaced", cutting.order, cutting.layout.unplaced), std::move(search)};
}

}  // namespace warmsheet::report
