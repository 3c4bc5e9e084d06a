// SPDX-License-Identifier: MIT
#include "stock/answers.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "stock/evidence.h"
#include "stock/item_answers.h"
#include "stock/item_study.h"

namespace warmsheet::stock {
namespace {

RollAnswer roll_answer(const Caseload& caseload, const library::Library& library, const Roll& roll,
                       const std::vector<KindPieces>& pieces) {
  const library::Fixing& fixing = library.fixing(roll.fixing);
  const RollStudy study = study_roll(caseload, roll, fixing.price.si(), pieces);
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
  money.push_back(fixing.price);
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
  answer.cost_per_month = Figure::derived("cost_per_month", Range::exactly(study.cost), fixing.price.unit(),
                                          "goods, orders and holding", money);
  answer.order_now = Figure::derived("order_now", Range::exactly(study.to_order), units::one(),
                                     "rolls, from what is on hand", stock);
  answer.order_now_cost = Finding::absent("nothing is to be ordered");
  if (study.to_order > 0)
    answer.order_now_cost = Figure::derived(
        "order_now_cost",
        Range::exactly(study.to_order * roll.length.si() * fixing.price.si() + roll.supply.order_cost.si()),
        fixing.price.unit(), "rolls at their price, and one order", money);
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

/// Sums over items and rolls; the ranges of the parts add up like those of independent things.
Finding total(const char* name, const std::vector<Finding>& parts, const Unit& unit, const char* how) {
  double value = 0.0;
  double down = 0.0;
  double up = 0.0;
  std::vector<Figure> behind;
  for (const Finding& part : parts) {
    if (!part.known()) return Finding::absent(part.reason());
    const Figure& figure = part.figure();
    value += figure.si();
    down += std::pow(figure.si() - figure.low_si(), 2);
    up += std::pow(figure.high_si() - figure.si(), 2);
    behind.push_back(figure);
  }
  if (behind.empty()) return Finding::absent("there is nothing to add up");
  return Figure::derived(name, {value, value - std::sqrt(down), value + std::sqrt(up)}, unit, how, behind);
}

/// Waste of all sheets together, by their area.
Finding total_waste(const std::vector<ItemAnswer>& items, const Study& study) {
  const auto stretches = static_cast<std::size_t>(study.stretches);
  std::vector<double> used_m2(stretches, 0.0);
  std::vector<double> wasted_m2(stretches, 0.0);
  std::vector<Figure> behind;
  for (std::size_t i = 0; i < items.size(); ++i) {
    const ItemStudy& item = study.items[i];
    if (!item.possible) return Finding::absent(items[i].waste.reason());
    if (!items[i].waste.known()) continue;
    for (std::size_t s = 0; s < stretches; ++s) {
      used_m2[s] += item.sheets_by_stretch[s];
      wasted_m2[s] += item.sheets_by_stretch[s] * item.waste_by_stretch[s];
    }
    behind.push_back(items[i].waste.figure());
  }
  const double used = std::accumulate(used_m2.begin(), used_m2.end(), 0.0);
  if (used <= 0.0) return Finding::absent("nothing is cut");
  const double mean = std::accumulate(wasted_m2.begin(), wasted_m2.end(), 0.0) / used;
  std::vector<double> shares;
  for (std::size_t s = 0; s < stretches; ++s)
    if (used_m2[s] > 0.0) shares.push_back(wasted_m2[s] / used_m2[s]);
  const Summary spread = summarise(shares);
  return Figure::derived("waste", {mean, std::min(spread.low, mean), std::max(spread.high, mean)},
                         units::percent(), "of all sheets together, by area; 90 % of stretches of four years",
                         behind);
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
  std::vector<Finding> costs;
  for (std::size_t i = 0; i < study.items.size(); ++i) {
    const auto end = [&](const Study* s) { return s != nullptr ? &s->items[i] : nullptr; };
    answers.items.push_back(
        item_answer(caseload, library, study.items[i], end(low), end(high), study.kinds, answers.months));
    const ItemAnswer& item = answers.items.back();
    answers.possible = answers.possible && study.items[i].possible;
    pieces.push_back(item.orthoses_per_month);
    sheets.push_back(item.sheets_per_month);
    costs.push_back(item.cost_per_month);
  }
  for (const Roll& roll : caseload.rolls) {
    answers.rolls.push_back(roll_answer(caseload, library, roll, study.kinds));
    if (answers.rolls.back().cost_per_month.known()) costs.push_back(answers.rolls.back().cost_per_month);
  }
  answers.pooling = pooling_answers(caseload, library, study, answers.items);
  answers.orthoses_per_month =
      total("orthoses_per_month", pieces, units::one(), "pieces cut of all kinds, remakes included");
  answers.sheets_per_month = total("sheets_per_month", sheets, units::one(), "sheets of all items");
  answers.cost_per_month = total("cost_per_month", costs, caseload.items.front().prices.front().price.unit(),
                                 "sheets, straps and edging: goods, orders and holding");
  answers.waste = total_waste(answers.items, study);
  return answers;
}

}  // namespace warmsheet::stock
