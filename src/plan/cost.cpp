// SPDX-License-Identifier: MIT
#include "plan/cost.h"

#include <utility>

#include "base/currency.h"

namespace warmsheet::plan {
namespace {

/// Prices are one unit each (a sheet, a piece, a metre, a square metre), so amount x price needs no
/// conversion in SI.
CostLine line(std::string what, Figure amount, Figure price) {
  Figure cost = Figure::derived("cost of " + what, amount.range_si().times(price.range_si()), price.unit(),
                                "amount times price", {amount, price});
  return {std::move(what), std::move(amount), std::move(price), std::move(cost)};
}

/// The part of each new sheet up to its used length; the clean rest counts as kept.
Figure sheets_by_used_length(const CostRequest& request) {
  if (request.cutting == nullptr) return request.estimate->sheet_share.renamed("sheet share");
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
  return request.cutting != nullptr ? request.cutting->sheets_used : request.estimate->sheets_used;
}

Figure scaled(const Figure& figure, std::string name, double factor, std::string how) {
  return Figure::derived(std::move(name), figure.range_si().times(factor), figure.unit(), std::move(how),
                         {figure});
}

/// `of_one` metres or square metres for each copy, or one piece where it is sold so.
Figure amount_of(const library::Fixing& fixing, const Figure& of_one, const std::string& what, int copies) {
  if (fixing.price_per == "piece")
    return Figure::stated(what + " pieces", Range::exactly(copies), units::one(),
                          {.basis = Basis::practice, .where = "one for each place, times copies"});
  const char* kind = of_one.dimension() == Dimension::area ? " area" : " length";
  return scaled(of_one, what + kind, copies, "that of one times copies")
      .in(*find_unit(of_one.dimension(), fixing.price_per));
}

void add_straps(std::vector<CostLine>& lines, const CostRequest& request) {
  if (request.outline == nullptr) return;
  for (const outline::StrapPlace& strap : request.outline->straps) {
    const library::Fixing& fixing = request.library->fixing(strap.fixing);
    lines.push_back(line(strap.name + ", " + fixing.name,
                         amount_of(fixing, strap.length, strap.name, request.copies), fixing.price));
  }
}

void add_finishing(std::vector<CostLine>& lines, const CostRequest& request) {
  const auto add = [&](const library::Fixing& fixing, const Figure& of_one) {
    lines.push_back(line(fixing.name, amount_of(fixing, of_one, fixing.kind, request.copies), fixing.price));
  };
  if (request.edging != nullptr && request.outline != nullptr)
    add(*request.edging, request.outline->perimeter);
  if (request.lining != nullptr) add(*request.lining, request.area);
}

std::string mixed(const std::vector<CostLine>& lines) {
  std::vector<Figure> prices;
  for (const CostLine& each : lines) prices.push_back(each.price);
  return mixed_currencies(prices);
}

Finding sum(std::string name, const std::vector<CostLine>& lines, std::string how) {
  if (std::string why = mixed(lines); !why.empty()) return Finding::absent(std::move(why));
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
  std::vector<CostLine> wasteful = lines;
  wasteful.front() = line("sheet, whole", whole_sheets(request), request.stock->price);
  Finding total =
      sum("cost", lines, "sum of sheet by used length, straps and finishing; labour is not priced");
  Finding total_no_offcuts =
      sum("cost_without_offcuts", wasteful,
          "as cost, but the rest of each new sheet is thrown away; a kept offcut costs nothing");
  return {std::move(lines), std::move(total), std::move(total_no_offcuts)};
}

std::vector<NamedFinding> Cost::results() const {
  return {{"cost", total}, {"cost_without_offcuts", total_no_offcuts}};
}

}  // namespace warmsheet::plan
