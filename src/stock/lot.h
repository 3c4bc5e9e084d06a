// SPDX-License-Identifier: MIT
// How much to order at once: ordering against holding, with price breaks, packs, a smallest order, and what
// of an order grows too old.
#pragma once

#include <optional>
#include <vector>

#include "stock/law.h"

namespace warmsheet::stock {

/// Where holding costs nothing no order is too large by cost; nobody buys for longer than this (common
/// practice, no source).
inline constexpr double most_years_if_holding_is_free = 5.0;

struct PriceBreak {
  int from;      ///< sheets in one order; the first break starts at 1
  double price;  ///< for one sheet
};

enum class Discount {
  all_units,    ///< the lower price holds for the whole order
  incremental,  ///< only for what lies above the break
};

/// What of an order grows too old: it comes behind what the reorder point leaves, and all of it must be used
/// from the order on until its life ends.
struct Aging {
  Law demand;         ///< over lead time and life
  int reorder_point;  ///< \pre 0 or more
};

struct LotTerms {
  double demand;                   ///< sheets a year
  double order_cost;               ///< for one order
  double holding_share;            ///< of a sheet's price, a year
  std::vector<PriceBreak> breaks;  ///< rising, the first from 1
  Discount discount = Discount::all_units;
  int pack = 1;                     ///< orders are whole packs
  int least = 1;                    ///< smallest order the supplier takes
  std::optional<int> most = {};     ///< space allows no more in one order
  std::optional<Aging> aging = {};  ///< where sheets may grow too old
};

/// A year's cost of ordering always `quantity`.
struct LotCost {
  double goods;  ///< those that grow too old too
  double ordering;
  double holding;
  [[nodiscard]] double total() const { return goods + ordering + holding; }
};

struct Lot {
  int quantity;
  LotCost cost;
  bool above_most;  ///< even the smallest order is more than `most`, or much of it grows too old
};

/// sqrt(2 D K / h): the quantity where ordering and holding cost the same.
double economic_quantity(double demand, double order_cost, double holding_cost);

/// What the sheets of one order cost. \pre quantity >= 1
double order_value(const LotTerms& terms, int quantity);

/// \pre quantity >= 1
LotCost lot_cost(const LotTerms& terms, int quantity);

/// The cheapest whole-pack quantity; the smaller one of two that cost the same. Exhaustive up to where
/// holding alone costs more than the best found. \pre demand > 0, breaks not empty
Lot best_lot(const LotTerms& terms);

/// Least quantity that is a whole number of packs and at least the smallest order, for something wanted.
int rounded_to_packs(int wanted, int pack, int least);

/// What of a batch of s is still there when its life ends, if all demand takes from it: E[(s - D)+].
double expected_expiry(const Law& demand_in_life, int s);
/// No law of this mean and variance has a greater chance to be s or less (Cantelli's inequality; from
/// memory). \pre s < mean
double most_chance_up_to(double mean, double variance, double s);
/// What an order of `quantity` loses to age: what is left of it and of what was there before, less what would
/// have been left without it (Chiu 1995, European Journal of Operational Research 86; from memory).
double expected_loss(const Aging& aging, int quantity);

}  // namespace warmsheet::stock
