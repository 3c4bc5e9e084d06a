// SPDX-License-Identifier: MIT
#include "stock/lot.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace warmsheet::stock {
namespace {

constexpr double most_years_in_an_order = 100.0;

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
  const double orders = terms.demand / quantity;
  return {orders * value, orders * terms.order_cost, 0.5 * terms.holding_share * value};
}

Lot best_lot(const LotTerms& terms) {
  const int smallest = rounded_to_packs(1, terms.pack, terms.least);
  const int most = terms.most.value_or(std::numeric_limits<int>::max() - terms.pack);
  Lot best{smallest, lot_cost(terms, smallest), smallest > most};
  const double price = lowest_price(terms);
  for (int quantity = smallest + terms.pack; quantity <= most; quantity += terms.pack) {
    // From here on every quantity costs at least the goods at the lowest price and its own holding.
    const double at_least = terms.demand * price + 0.5 * terms.holding_share * price * quantity;
    if (at_least > best.cost.total() || quantity > terms.demand * years_to_search(terms)) break;
    const LotCost cost = lot_cost(terms, quantity);
    if (cost.total() < best.cost.total()) best = {quantity, cost, false};
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

double most_expiry(double mean, double variance, double s) {
  const double spare = mean - s;
  return 0.5 * (std::sqrt(variance + spare * spare) - spare);
}

int largest_batch(const Law& demand_in_life, double lost_share) {
  // The share grows with the batch: where no demand is left to come, all of one more is lost.
  const auto too_large = [&](int s) { return expected_expiry(demand_in_life, s) > lost_share * s; };
  int fits = 0;
  int not_any_more = demand_in_life.largest() + 1;
  while (!too_large(not_any_more)) fits = std::exchange(not_any_more, 2 * not_any_more);
  while (not_any_more - fits > 1) {
    const int middle = fits + (not_any_more - fits) / 2;
    (too_large(middle) ? not_any_more : fits) = middle;
  }
  return fits;
}

}  // namespace warmsheet::stock
