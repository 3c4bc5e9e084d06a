// SPDX-License-Identifier: MIT
#include "stock/lot.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace warmsheet::stock {
namespace {

constexpr double most_years_in_an_order = 100.0;

/// Of the smallest order, no more than this share may be expected to grow too old before that is said
/// (judgement, no source).
constexpr double accepted_loss = 0.02;
/// Where hardly anything is asked for, all but this share of an order may be lost: still a finite cost.
constexpr double least_kept_share = 1e-6;

/// Of an order, what is used before it grows too old. Falls with the order.
double kept_share(const LotTerms& terms, int quantity) {
  if (!terms.aging) return 1.0;
  return std::max(1.0 - expected_loss(*terms.aging, quantity) / quantity, least_kept_share);
}

double years_to_search(const LotTerms& terms) {
  return terms.holding_share > 0.0 ? most_years_in_an_order : most_years_if_holding_is_free;
}

double lowest_price(const LotTerms& terms) {
  double lowest = std::numeric_limits<double>::infinity();
  for (const PriceBreak& at : terms.breaks) lowest = std::min(lowest, at.price);
  return lowest;
}

}  // namespace

double order_value(const LotTerms& terms, int quantity) {
  double incremental = 0.0;
  double price = terms.breaks.front().price;
  for (std::size_t i = 0; i < terms.breaks.size() && terms.breaks[i].from <= quantity; ++i) {
    const bool last = i + 1 == terms.breaks.size();
    // An incremental break at `from` prices what lies above it; the first one has nothing below.
    const int start = i == 0 ? 0 : terms.breaks[i].from;
    const int end = last ? quantity : std::min(quantity, terms.breaks[i + 1].from);
    incremental += (end - start) * terms.breaks[i].price;
    price = terms.breaks[i].price;
  }
  return terms.discount == Discount::all_units ? quantity * price : incremental;
}

double economic_quantity(double demand, double order_cost, double holding_cost) {
  return std::sqrt(2.0 * demand * order_cost / holding_cost);
}

LotCost lot_cost(const LotTerms& terms, int quantity) {
  const double value = order_value(terms, quantity);
  const double orders = terms.demand / (quantity * kept_share(terms, quantity));
  return {orders * value, orders * terms.order_cost, 0.5 * terms.holding_share * value};
}

Lot best_lot(const LotTerms& terms) {
  const int smallest = rounded_to_packs(1, terms.pack, terms.least);
  const int most = terms.most.value_or(std::numeric_limits<int>::max() - terms.pack);
  const bool too_old = smallest > 1 && 1.0 - kept_share(terms, smallest) > accepted_loss;
  Lot best{smallest, lot_cost(terms, smallest), smallest > most || too_old};
  const double price = lowest_price(terms);
  for (int quantity = smallest + terms.pack; quantity <= most; quantity += terms.pack) {
    const LotCost cost = lot_cost(terms, quantity);
    if (cost.total() < best.cost.total()) best = {quantity, cost, best.above_most};
    // From here on every quantity costs at least the goods at the lowest price, with what of them grows too
    // old, and its own holding.
    const double at_least =
        terms.demand * price / kept_share(terms, quantity) + 0.5 * terms.holding_share * price * quantity;
    if (at_least > best.cost.total() || quantity > terms.demand * years_to_search(terms)) break;
  }
  return best;
}

int rounded_to_packs(int wanted, int pack, int least) {
  const int at_least = std::max({wanted, least, 1});
  return (at_least + pack - 1) / pack * pack;
}

double expected_expiry(const Law& demand_in_life, int s) {
  return demand_in_life.leftover(s);
}

double most_chance_up_to(double mean, double variance, double s) {
  const double spare = mean - s;
  return variance / (variance + spare * spare);
}

double expected_loss(const Aging& aging, int quantity) {
  return expected_expiry(aging.demand, aging.reorder_point + quantity) -
         expected_expiry(aging.demand, aging.reorder_point);
}

}  // namespace warmsheet::stock
