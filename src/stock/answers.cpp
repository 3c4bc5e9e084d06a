// SPDX-License-Identifier: MIT
#include "stock/answers.h"

#include <algorithm>

#include "stock/evidence.h"
#include "stock/item_answers.h"
#include "stock/item_study.h"

namespace warmsheet::stock {
namespace {

RollAnswer roll_answer(const Caseload& caseload, const library::Library& library, const Roll& roll,
                       const std::vector<KindPieces>& pieces) {
  const library::Fixing& fixing = library.fixing(roll.fixing);
  const RollStudy study = study_roll(caseload, roll, pieces);
  const Unit& metre = *find_unit(Dimension::length, "m");
  const Finding none = Finding::absent("no orthosis of this caseload needs it");
  RollAnswer answer{roll.fixing, fixing.name, none, none, none, none,
                    none,        none,        none, none, none, roll.on_hand};
  if (!study.used) return answer;
  const std::vector<Figure> use = behind_roll(caseload, roll, pieces);
  std::vector<Figure> stock = use;
  for (const Figure& figure : behind_supply(roll.supply)) stock.push_back(figure);
  stock.push_back(roll.length);
  std::vector<Figure> money = stock;
  money.push_back(roll.price);
  answer.metres_per_month =
      Figure::derived("metres_per_month", range_of(study.metres), metre,
                      "length needed in a month, worked out from the demand; the range holds 90 %", use);
  answer.reorder_point = Figure::derived(
      "reorder_point", Range::exactly(study.reorder_m), metre,
      "order when there is this much or less: what the time to cover needs, worked out from the demand",
      stock);
  answer.order_up_to = Figure::derived("order_up_to", Range::exactly(study.order_up_to_m), metre,
                                       "reorder point plus the order", stock);
  answer.order_quantity =
      Figure::derived("order_quantity", Range::exactly(study.lot.quantity), units::one(),
                      "rolls with the least yearly cost of goods, orders and holding", money);
  answer.cycle_service =
      Figure::derived("cycle_service", Range::exactly(std::min(1.0, study.cycle_service)), units::percent(),
                      "chance that a delivery comes before anything is short", stock);
  answer.fill_rate = Figure::derived("fill_rate", Range::exactly(std::min(1.0, study.fill_rate)),
                                     units::percent(), "share of the length served at once", stock);
  answer.cost_per_month = Figure::derived("cost_per_month", Range::exactly(study.cost), roll.price.unit(),
                                          "goods, orders and holding", money);
  answer.order_now = Figure::derived("order_now", Range::exactly(study.to_order), units::one(),
                                     "rolls, from what is on hand", stock);
  answer.order_now_cost = Finding::absent("nothing is to be ordered");
  if (study.to_order > 0)
    answer.order_now_cost = Figure::derived(
        "order_now_cost",
        Range::exactly(study.to_order * roll.length.si() * roll.price.si() + roll.supply.order_cost.si()),
        roll.price.unit(), "rolls at their price, and one order", money);
  return answer;
}

/// Sheets of one polymer and perforation that differ in thickness only: could one of them do?
bool could_be_one(const library::StockItem& a, const library::StockItem& b) {
  return a.sheet == b.sheet && a.perforation == b.perforation && a.thickness.si() != b.thickness.si();
}

std::vector<PoolingAnswer> pooling_answers(const Caseload& caseload, const library::Library& library,
                                           const Study& study, const std::vector<ItemAnswer>& items) {
  std::vector<PoolingAnswer> answers;
  for (std::size_t i = 0; i < study.items.size(); ++i)
    for (std::size_t j = i + 1; j < study.items.size(); ++j) {
      const library::StockItem& first = library.stock_item(caseload.items[i].key);
      const library::StockItem& second = library.stock_item(caseload.items[j].key);
      if (!could_be_one(first, second) || !study.items[i].possible || !study.items[j].possible) continue;
      if (!study.items[i].used || !study.items[j].used) continue;
      const double service = caseload.items[i].supply.service.si();
      const auto reserve = [&](const Law& law) { return law.quantile(service) - law.mean(); };
      const double apart = reserve(study.items[i].cover) + reserve(study.items[j].cover);
      const double together = reserve(sum(study.items[i].cover, study.items[j].cover));
      if (together >= apart) continue;
      const std::vector<Figure> behind{items[i].demand_to_cover.figure(), items[j].demand_to_cover.figure(),
                                       caseload.items[i].supply.service};
      const Figure& price = caseload.items[i].prices.front().price;
      std::vector<Figure> money = behind;
      money.push_back(caseload.items[i].supply.holding);
      money.push_back(price);
      answers.push_back(
          {first.key(), second.key(),
           Figure::derived("reserve apart", Range::exactly(apart), units::one(),
                           "reorder points less the mean demand to cover", behind),
           Figure::derived("reserve together", Range::exactly(together), units::one(),
                           "the same for the sum of both demands", behind),
           Figure::derived(
               "saved a year",
               Range::exactly((apart - together) * price.si() * caseload.items[i].supply.holding.si()),
               price.unit(), "holding of the reserve that is no longer needed", money)});
    }
  return answers;
}

}  // namespace

std::vector<NamedFinding> Answers::results() const {
  return {{"orthoses_per_month", orthoses_per_month},
          {"sheets_per_month", sheets_per_month},
          {"waste", waste},
          {"cost_per_month", cost_per_month}};
}

namespace {

using Series = std::vector<double>;

/// Adds the other series moment by moment; the shorter one begins again when it ends.
void add(Series& total, const Series& other) {
  if (total.size() < other.size()) {
    const std::size_t had = total.size();
    total.resize(other.size());
    for (std::size_t i = had; i < total.size(); ++i) total[i] = had == 0 ? 0.0 : total[i % had];
  }
  for (std::size_t i = 0; i < total.size(); ++i) total[i] += other[i % other.size()];
}

/// Same months and years, added up: what makes one item's month busy, season and history, makes all busy.
Finding total(const char* name, const std::vector<Finding>& parts, const std::vector<Series>& series,
              const Unit& unit, const char* how) {
  std::vector<Figure> behind;
  for (const Finding& part : parts) {
    if (!part.known()) return Finding::absent(part.reason());
    behind.push_back(part.figure());
  }
  if (behind.empty()) return Finding::absent("there is nothing to add up");
  Series sums;
  for (const Series& one : series) add(sums, one);
  return Figure::derived(name, range_of(summarise(sums)), unit, how, behind);
}

/// Of all items and rolls, a month, by stretch, then by start and year.
Finding total_cost(const Answers& answers, const Study& study, const Unit& unit) {
  std::vector<Finding> parts;
  for (const ItemAnswer& item : answers.items) parts.push_back(item.cost_per_month);
  double rolls = 0.0;
  for (const RollAnswer& roll : answers.rolls) {
    if (!roll.cost_per_month.known()) continue;
    parts.push_back(roll.cost_per_month);
    rolls += roll.cost_per_month.figure().si();
  }
  Series all;
  if (answers.possible)
    for (std::size_t s = 0; s < static_cast<std::size_t>(study.stretches); ++s) {
      Series years{rolls};
      for (const ItemStudy& item : study.items) add(years, item.cost_by_year[s]);
      all.insert(all.end(), years.begin(), years.end());
    }
  return total("cost_per_month", parts, {all}, unit,
               "sheets, straps and edging: goods, orders and holding; 90 % of simulated years");
}

/// Waste of all sheets together, by their area.
Finding total_waste(const std::vector<ItemAnswer>& items, const Study& study) {
  std::vector<Areas> years;
  std::vector<Figure> behind;
  for (std::size_t i = 0; i < items.size(); ++i) {
    const ItemStudy& item = study.items[i];
    if (!item.possible) return Finding::absent(items[i].waste.reason());
    if (!items[i].waste.known()) continue;
    years.resize(item.areas_by_year.size());
    for (std::size_t y = 0; y < years.size(); ++y) years[y] += item.areas_by_year[y];
    behind.push_back(items[i].waste.figure());
  }
  const std::optional<Summary> waste = summary_of_waste(years);
  if (!waste) return Finding::absent("nothing is cut");
  return Figure::derived("waste", range_of(*waste), units::percent(),
                         "of all sheets together, by area; 90 % of simulated years", behind);
}

}  // namespace

Answers answers_of(const Caseload& caseload, const library::Library& library, const Study& study,
                   const Study* low, const Study* high) {
  Answers answers{.items = {},
                  .rolls = {},
                  .pooling = {},
                  .months = months_simulated(study),
                  .orthoses_per_month = Finding::absent("not added up"),
                  .sheets_per_month = Finding::absent("not added up"),
                  .waste = Finding::absent("not added up"),
                  .cost_per_month = Finding::absent("not added up")};
  std::vector<Finding> pieces;
  std::vector<Finding> sheets;
  std::vector<Series> pieces_series;
  std::vector<Series> sheets_series;
  for (std::size_t i = 0; i < study.items.size(); ++i) {
    const auto end = [&](const Study* s) { return s != nullptr ? &s->items[i] : nullptr; };
    answers.items.push_back(
        item_answer(caseload, library, study.items[i], end(low), end(high), study.kinds, answers.months));
    const ItemAnswer& item = answers.items.back();
    answers.possible = answers.possible && study.items[i].possible;
    pieces.push_back(item.orthoses_per_month);
    sheets.push_back(item.sheets_per_month);
    pieces_series.push_back(study.items[i].pieces_each_month);
    sheets_series.push_back(study.items[i].sheets_each_month);
  }
  for (const Roll& roll : caseload.rolls)
    answers.rolls.push_back(roll_answer(caseload, library, roll, study.kinds));
  answers.pooling = pooling_answers(caseload, library, study, answers.items);
  answers.orthoses_per_month = total("orthoses_per_month", pieces, pieces_series, units::one(),
                                     "pieces cut of all kinds, remakes included; 90 % of simulated months");
  answers.sheets_per_month = total("sheets_per_month", sheets, sheets_series, units::one(),
                                   "sheets of all items; 90 % of simulated months");
  answers.cost_per_month = total_cost(answers, study, caseload.items.front().prices.front().price.unit());
  answers.waste = total_waste(answers.items, study);
  return answers;
}

}  // namespace warmsheet::stock
