// SPDX-License-Identifier: MIT
#include "plan/cost.h"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "base/problem.h"

namespace warmsheet::plan {
namespace {

Range times(Range a, Range b) {
  return {a.value * b.value, a.low * b.low, a.high * b.high};
}

/// Prices are one unit each (a sheet, a metre, a square metre), so amount x price needs no conversion in SI.
CostLine line(std::string what, Figure amount, Figure price) {
  Figure cost = Figure::derived("cost of " + what, times(amount.range_si(), price.range_si()), price.unit(),
                                "amount times price", {amount, price});
  return {std::move(what), std::move(amount), std::move(price), std::move(cost)};
}

/// The part of each new sheet up to its used length; the clean rest counts as kept.
Figure sheets_by_used_length(const CostRequest& request) {
  if (request.cutting == nullptr) return request.estimate->sheets_used.renamed("sheet share");
  const nesting::Order& order = request.cutting->order;
  double share = 0.0;
  for (const nesting::UsedSheet& used : request.cutting->layout.sheets) {
    const nesting::Stock& stock = order.stock[used.stock];
    if (!stock.offcut) share += used.used_length_mm / stock.shape.box().width_mm();
  }
  return Figure::derived("sheet share", Range::exactly(share), units::one(),
                         "used length over sheet length, summed over the new sheets",
                         {request.cutting->sheets_used, request.stock->length});
}

Figure whole_sheets(const CostRequest& request) {
  if (request.cutting != nullptr) return request.cutting->sheets_used;
  const Figure& share = request.estimate->sheets_used;
  return Figure::derived("whole sheets",
                         {std::ceil(share.si()), std::ceil(share.low_si()), std::ceil(share.high_si())},
                         units::one(), "sheets needed, rounded up", {share});
}

Figure scaled(const Figure& figure, std::string name, double factor, std::string how) {
  const Range range = figure.range_si();
  return Figure::derived(std::move(name), {range.value * factor, range.low * factor, range.high * factor},
                         figure.unit(), std::move(how), {figure});
}

void add_straps(std::vector<CostLine>& lines, const CostRequest& request) {
  if (request.outline == nullptr) return;
  for (const outline::StrapPlace& strap : request.outline->straps) {
    const library::Fixing& fixing = request.library->fixing(strap.fixing);
    Figure length =
        scaled(strap.length, strap.name + " length", request.copies, "length of one times copies");
    lines.push_back(
        line(strap.name + ", " + fixing.name, length.in(*find_unit(Dimension::length, "m")), fixing.price));
  }
}

void add_finishing(std::vector<CostLine>& lines, const CostRequest& request) {
  if (request.edging != nullptr && request.outline != nullptr)
    lines.push_back(
        line(request.edging->name,
             scaled(request.outline->perimeter, "edging length", request.copies, "cut edge times copies")
                 .in(*find_unit(Dimension::length, "m")),
             request.edging->price));
  if (request.lining != nullptr)
    lines.push_back(line(request.lining->name,
                         scaled(request.area, "lining area", request.copies, "outline area times copies"),
                         request.lining->price));
}

void require_one_currency(const std::vector<CostLine>& lines) {
  const CostLine& first = lines.front();
  for (const CostLine& other : lines) {
    if (other.price.unit().id == first.price.unit().id) continue;
    throw Failure({Trouble::data, other.price.origin() ? other.price.origin()->place : Place{},
                   fmt::format("{} is priced in {}, {} in {}", first.what, first.price.unit().id, other.what,
                               other.price.unit().id),
                   "state all prices in one currency; override the demo prices in your own library folder"});
  }
}

Figure sum(std::string name, const std::vector<CostLine>& lines, std::string how) {
  Range total = Range::exactly(0.0);
  std::vector<Figure> parts;
  for (const CostLine& each : lines) {
    total.value += each.cost.si();
    total.low += each.cost.low_si();
    total.high += each.cost.high_si();
    parts.push_back(each.cost);
  }
  return Figure::derived(std::move(name), total, lines.front().price.unit(), std::move(how),
                         std::move(parts));
}

}  // namespace

Cost cost_of(const CostRequest& request) {
  std::vector<CostLine> lines{line("sheet", sheets_by_used_length(request), request.stock->price)};
  add_straps(lines, request);
  add_finishing(lines, request);
  require_one_currency(lines);
  std::vector<CostLine> wasteful = lines;
  wasteful.front() = line("sheet, whole", whole_sheets(request), request.stock->price);
  Figure total =
      sum("cost", lines, "sum of sheet by used length, straps and finishing; labour is not priced");
  Figure total_no_offcuts =
      sum("cost_without_offcuts", wasteful, "as cost, but the rest of each sheet is thrown away");
  return {std::move(lines), std::move(total), std::move(total_no_offcuts)};
}

std::vector<NamedFinding> Cost::results() const {
  return {{"cost", total}, {"cost_without_offcuts", total_no_offcuts}};
}

}  // namespace warmsheet::plan
