// SPDX-License-Identifier: MIT
#include "plan/cutting.h"

#include <algorithm>
#include <cmath>

#include "base/currency.h"
#include "base/dimension.h"

namespace warmsheet::plan {
namespace {

std::vector<outline::Polygon> from_corner(const std::vector<outline::Polygon>& zones, outline::Point corner) {
  std::vector<outline::Polygon> placed;
  for (const outline::Polygon& zone : zones) placed.push_back(zone.placed(0.0, corner));
  return placed;
}

/// Sheets priced in several currencies have no dearer and cheaper: they count as unpriced ones do.
std::string prices_left_out(const std::vector<SheetSize>& sheets) {
  std::vector<Figure> prices;
  for (const SheetSize& sheet : sheets)
    if (sheet.price) prices.push_back(*sheet.price);
  return mixed_currencies(prices);
}

nesting::Order order_of(const CutRequest& request) {
  const bool priced = prices_left_out(request.sheets).empty();
  nesting::Order order;
  for (const CutItem& item : request.items)
    order.pieces.push_back({.name = item.outline.name,
                            .shape = item.outline.shape,
                            .copies = item.copies,
                            .rotations = request.rotations,
                            .may_flip = request.may_flip,
                            .group = item.group,
                            .priority = item.priority});
  for (const Offcut& offcut : request.offcuts)
    order.stock.push_back({.name = offcut.name,
                           .shape = offcut.shape,
                           .count = 1,
                           .price = 0.0,
                           .offcut = true,
                           .spoilt = from_corner(offcut.spoilt, offcut.shape.box().low)});
  for (const SheetSize& sheet : request.sheets)
    order.stock.push_back({.name = sheet.name,
                           .shape = rectangle(sheet.length.si() * mm_per_m, sheet.width.si() * mm_per_m),
                           .count = sheet.count.value_or(-1),
                           .price = priced && sheet.price ? sheet.price->si() : 0.0,
                           .offcut = false,
                           .spoilt = sheet.spoilt});
  order.spacing_mm = request.spacing.si() * mm_per_m;
  order.margin_mm = request.margin.si() * mm_per_m;
  return order;
}

std::vector<Figure> inputs_of(const CutRequest& request) {
  std::vector<Figure> inputs;
  for (const CutItem& item : request.items) inputs.push_back(item.outline.area);
  for (const SheetSize& sheet : request.sheets) {
    inputs.push_back(sheet.width);
    inputs.push_back(sheet.length);
  }
  for (const Offcut& offcut : request.offcuts) inputs.push_back(offcut.area);
  inputs.push_back(request.spacing);
  inputs.push_back(request.margin);
  return inputs;
}

double placed_area_mm2(const nesting::Order& order, const nesting::Layout& layout) {
  double area = 0.0;
  for (const nesting::Placement& placement : layout.placements)
    area += order.pieces[placement.piece].shape.area_mm2();
  return area;
}

double sheet_area_mm2(const nesting::Order& order, const nesting::Layout& layout) {
  double area = 0.0;
  for (const nesting::UsedSheet& used : layout.sheets) area += order.stock[used.stock].shape.area_mm2();
  return area;
}

Finding used_length_of(const nesting::Order& order, const nesting::Layout& layout,
                       const std::vector<Figure>& inputs) {
  const auto is_sheet = [&](const nesting::UsedSheet& used) { return !order.stock[used.stock].offcut; };
  const auto last = std::find_if(layout.sheets.rbegin(), layout.sheets.rend(), is_sheet);
  if (last == layout.sheets.rend()) return Finding::absent(no_new_sheet);
  return Figure::derived(
      "used_length", Range::exactly(last->used_length_mm / mm_per_m), units::millimetre(),
      "from the sheet's edge to the farthest outline on the last sheet, edge margin included", inputs);
}

Finding longer_than_bound_of(const nesting::Order& order, const nesting::Layout& layout,
                             const std::vector<Figure>& inputs) {
  if (layout.sheets.empty() || order.stock[layout.sheets.back().stock].offcut)
    return Finding::absent(no_new_sheet);
  if (layout.shortest_mm <= 0.0) return Finding::absent("how short it could be is not known");
  // Sums of millimetres differ by their rounding; no knife cuts to a micrometre.
  constexpr double rounding_mm = 1e-3;
  const double above_mm = layout.sheets.back().used_length_mm - layout.shortest_mm;
  const double gap_mm = above_mm < rounding_mm ? 0.0 : above_mm;
  return Figure::derived("longer_than_bound", Range::exactly(gap_mm / mm_per_m), units::millimetre(),
                         "used length less the length that no layout with these sheets can go below: area of "
                         "the outlines, their narrowest turn, and what is fixed",
                         inputs);
}

/// The earlier layouts of the request, checked against the order; they must outlive the search.
struct Earlier {
  std::optional<nesting::Layout> start;
  Earlier(const CutRequest& request, nesting::Order& order) {
    if (request.laid) lay(*request.laid, order);
    if (!request.start) return;
    start = layout_of(*request.start, order);
    refuse_other_layout(*request.start, order, *start);
  }
};

}  // namespace

bool Cutting::worth_keeping(const nesting::Remnant& remnant) const {
  const double length_m = remnant.length_mm / mm_per_m;
  const double width_m = remnant.width_mm / mm_per_m;
  return std::min(length_m, width_m) >= keep.least_side.si() && length_m * width_m >= keep.least_area.si();
}

outline::Polygon rectangle(double length_mm, double width_mm) {
  return outline::Polygon::make({{0, 0}, {length_mm, 0}, {length_mm, width_mm}, {0, width_mm}}, {}, {});
}

nesting::Rotations parse_rotations(std::string_view text) {
  if (text == "free") return {.free = true, .angles_deg = {}};
  if (text == "none") return {.free = false, .angles_deg = {0.0}};
  if (text == "90") return {.free = false, .angles_deg = {0.0, 90.0, 180.0, 270.0}};
  if (text == "180") return {.free = false, .angles_deg = {0.0, 180.0}};
  nesting::Rotations rotations{.free = false, .angles_deg = {}};
  while (true) {
    const std::size_t comma = text.find(',');
    const Written written = parse_quantity(text.substr(0, comma), Dimension::angle);
    rotations.angles_deg.push_back(find_unit(Dimension::angle, "deg")->from_si(written.si));
    if (comma == std::string_view::npos) return rotations;
    text.remove_prefix(comma + 1);
  }
}

Cutting cut(const CutRequest& request) {
  nesting::Order order = order_of(request);
  const Earlier earlier(request, order);
  nesting::Effort effort = request.effort;
  if (earlier.start) effort.start = &*earlier.start;
  nesting::Layout layout = nesting::nest(order, effort);
  const std::vector<Figure> inputs = inputs_of(request);
  const auto sheets =
      std::count_if(layout.sheets.begin(), layout.sheets.end(),
                    [&](const nesting::UsedSheet& used) { return !order.stock[used.stock].offcut; });
  const double whole = sheet_area_mm2(order, layout);
  const double share = whole > 0.0 ? placed_area_mm2(order, layout) / whole : 0.0;
  Finding used_length = used_length_of(order, layout, inputs);
  std::vector<nesting::Remnant> remnants = nesting::remnants(order, layout);
  Figure sheets_used =
      Figure::derived("sheets_used", Range::exactly(static_cast<double>(sheets)), units::one(),
                      "new sheets in the layout found; kept offcuts are not counted", inputs);
  Figure utilisation =
      Figure::derived("utilisation", Range::exactly(share), units::percent(),
                      "area of the outlines over the area of all sheets and offcuts used", inputs);
  Figure bound = Figure::derived("bound", Range::exactly(layout.bound), units::one(),
                                 "no layout can need fewer new sheets than this", inputs);
  Figure above = Figure::derived("above_bound", Range::exactly(static_cast<double>(sheets) - layout.bound),
                                 units::one(), "sheets used less the bound", inputs);
  Finding longer = longer_than_bound_of(order, layout, inputs);
  std::vector<std::vector<outline::WorkLine>> lines;
  for (const CutItem& item : request.items) lines.push_back(item.outline.lines);
  return {.order = std::move(order),
          .layout = std::move(layout),
          .sheets_used = std::move(sheets_used),
          .utilisation = std::move(utilisation),
          .used_length = std::move(used_length),
          .bound = std::move(bound),
          .above_bound = std::move(above),
          .longer_than_bound = std::move(longer),
          .remnants = std::move(remnants),
          .keep = request.keep,
          .spacing = request.spacing,
          .prices_left_out = prices_left_out(request.sheets),
          .lines = std::move(lines)};
}

std::vector<NamedFinding> Cutting::results() const {
  return {{"sheets_used", sheets_used}, {"utilisation", utilisation},
          {"used_length", used_length}, {"bound", bound},
          {"above_bound", above_bound}, {"longer_than_bound", longer_than_bound}};
}

namespace {

/// What a rounded division has too much asks for no further sheet.
double whole_sheets(double sheets) {
  return std::ceil(sheets - rounding_slack(sheets));
}

Figure whole(std::string name, const Range& sheets, std::string how, std::vector<Figure> inputs) {
  return Figure::derived(std::move(name),
                         {whole_sheets(sheets.value), whole_sheets(sheets.low), whole_sheets(sheets.high)},
                         units::one(), std::move(how), std::move(inputs));
}

}  // namespace

AreaEstimate estimate_by_area(const Figure& area, int copies, const SheetSize& sheet,
                              const Figure& usual_utilisation) {
  const double sheet_m2 = sheet.width.si() * sheet.length.si();
  const auto sheets = [&](double area_m2, double share) { return area_m2 * copies / (sheet_m2 * share); };
  const Figure& share = usual_utilisation;
  Figure needed = Figure::derived("sheet_share",
                                  {sheets(area.si(), share.si()), sheets(area.low_si(), share.high_si()),
                                   sheets(area.high_si(), share.low_si())},
                                  units::one(),
                                  "area wanted over the part of a sheet that usually becomes orthosis; an "
                                  "estimate, since the shape is not known",
                                  {area, sheet.width, sheet.length, share});
  Figure used = whole("sheets_used", needed.range_si(), "sheet share in whole sheets", {needed});
  const Range least{sheets(area.si(), 1.0), sheets(area.low_si(), 1.0), sheets(area.high_si(), 1.0)};
  return {
      std::move(needed), std::move(used), share.renamed("utilisation"),
      whole("bound", least, "area wanted over sheet area, rounded up", {area, sheet.width, sheet.length})};
}

std::vector<NamedFinding> AreaEstimate::results() const {
  return {{"sheets_used", sheets_used},
          {"utilisation", utilisation},
          {"used_length", Finding::absent("only the area is known, not the shape")},
          {"bound", bound},
          {"sheet_share", sheet_share}};
}

}  // namespace warmsheet::plan
