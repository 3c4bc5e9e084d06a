// SPDX-License-Identifier: MIT
#include "stock/evidence.h"

#include <fmt/format.h>

#include "stock/item_study.h"

namespace warmsheet::stock {
namespace {

void add(std::vector<Figure>& to, const std::vector<Figure>& from) {
  to.insert(to.end(), from.begin(), from.end());
}

void add_if_not_zero(std::vector<Figure>& to, const Figure& figure) {
  if (figure.si() != 0.0) to.push_back(figure);
}

std::vector<Figure> behind_cutting(const Cutting& cutting) {
  std::vector<Figure> figures{cutting.spacing, cutting.margin, cutting.least_side, cutting.most_offcuts};
  if (cutting.method == Method::batched) figures.push_back(cutting.every);
  return figures;
}

std::vector<Figure> behind_kind(const Kind& kind, const Caseload& caseload, const Figure& area) {
  std::vector<Figure> figures{demand_figure(kind, caseload), area};
  add_if_not_zero(figures, kind.remake);
  if (kind.remake.si() > 0.0) figures.push_back(kind.remake_after);
  add_if_not_zero(figures, kind.scrap);
  return figures;
}

}  // namespace

Figure demand_figure(const Kind& kind, const Caseload& caseload) {
  if (kind.per_month) return *kind.per_month;
  const Range mean = monthly_mean(kind, caseload);
  const Figure months =
      Figure::stated(fmt::format("months in {}", caseload.history->file),
                     Range::exactly(static_cast<double>(caseload.history->months.size())), units::one(),
                     {.basis = caseload.history_origin.basis,
                      .where = "column " + kind.column,
                      .place = caseload.history_origin.place});
  return Figure::derived(fmt::format("kind.{}.per_month", kind.id), mean, units::one(),
                         "mean of the history; the range is that of a mean of so many months", {months});
}

Figure months_simulated(const Study& study) {
  return Figure::stated("months simulated", Range::exactly(study.months), units::one(),
                        {.basis = study.months_basis,
                         .where = fmt::format("{} stretches of {}, each after {} to settle", study.stretches,
                                              stretch_months, settling_months)});
}

std::vector<Figure> behind_supply(const Supply& supply) {
  std::vector<Figure> figures{supply.lead_time, supply.service};
  if (supply.review) figures.push_back(*supply.review);
  if (supply.shelf_life) figures.push_back(*supply.shelf_life);
  if (supply.storage) figures.push_back(*supply.storage);
  return figures;
}

std::vector<Figure> behind_roll(const Caseload& caseload, const Roll& roll,
                                const std::vector<KindPieces>& pieces) {
  std::vector<Figure> figures;
  for (std::size_t k = 0; k < pieces.size(); ++k) {
    const Kind& kind = caseload.kinds[k];
    bool needed = kind.edging == roll.fixing;
    for (const PieceSize& size : pieces[k].sizes)
      for (const PieceSize::Strap& strap : size.straps) needed = needed || strap.fixing == roll.fixing;
    if (needed) add(figures, behind_kind(kind, caseload, pieces[k].area));
  }
  add_if_not_zero(figures, caseload.season_strength);
  return figures;
}

ItemEvidence::ItemEvidence(const Caseload& caseload, const library::Library& library, const Item& item,
                           const std::vector<KindPieces>& pieces, const Figure& months) {
  for (std::size_t k = 0; k < caseload.kinds.size(); ++k) {
    if (caseload.kinds[k].item != item.key) continue;
    kinds_.push_back(caseload.kinds[k].id);
    add(demand_and_cut_, behind_kind(caseload.kinds[k], caseload, pieces[k].area));
  }
  add_if_not_zero(demand_and_cut_, item.practice);
  add_if_not_zero(demand_and_cut_, caseload.season_strength);
  add(demand_and_cut_, behind_cutting(caseload.cutting));
  demand_and_cut_.push_back(months);
  use_ = behind_use_on(library.stock_item(item.sizes.front()));
  stock_ = use_;
  add(stock_, behind_supply(item.supply));
  stock_.push_back(item.pack);
  cost_ = stock_;
  for (const PriceStep& step : item.prices) cost_.push_back(step.price);
  cost_.push_back(item.supply.order_cost);
  cost_.push_back(item.supply.holding);
  year_ = stock_;
  year_.push_back(item.on_hand);
  add_if_not_zero(year_, caseload.growth);
  for (const Item::Coming& coming : item.on_order) add(year_, {coming.sheets, coming.due});
  for (const Item::Kept& offcut : item.offcuts) add(year_, {offcut.length, offcut.width});
}

std::vector<Figure> ItemEvidence::behind_use_on(const library::StockItem& size) const {
  std::vector<Figure> figures = demand_and_cut_;
  figures.push_back(size.width);
  figures.push_back(size.length);
  return figures;
}

}  // namespace warmsheet::stock
