// SPDX-License-Identifier: MIT
#include "stock/lot.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <vector>

#include "support/near.h"

using namespace warmsheet::stock;
using warmsheet::testing::near_abs;
using warmsheet::testing::near_rel;

TEST_CASE("economic quantities agree with printed examples") {
  // Snyder and Shen example 3.1 (stockpyl, eoq.py): 1300 a year, order 8, holding .225.
  CHECK(near_rel(economic_quantity(1300, 8, .225), 304.0467800264368, 1e-12));
  // Hillier and Lieberman (read in the manual of the R package SCperf): 8000 a month, order 12000, holding
  // .3.
  CHECK(near_abs(economic_quantity(8000, 12000, .3), 25298.22, 5e-3));
}

TEST_CASE("all-units price breaks: the order goes up to a break where the textbooks say so") {
  struct Row {
    const char* source;
    LotTerms terms;
    int quantity;
    double cost;
    double printed;
  };
  const std::vector<Row> rows{
      {"Snyder and Shen, quantity discounts (stockpyl, eoq.py)",
       {.demand = 1000, .order_cost = 200, .holding_share = .2, .breaks = {{1, 500}, {200, 475}, {500, 450}}},
       500,
       472900,
       .5},
      {"Nahmias, bag example (from memory)",
       {.demand = 600, .order_cost = 8, .holding_share = .2, .breaks = {{1, .30}, {500, .29}, {1000, .28}}},
       500,
       198.10,
       .005},
      {"Heizer and Render (data read at quesba.com 48672, answer from memory)",
       {.demand = 5000,
        .order_cost = 49,
        .holding_share = .2,
        .breaks = {{1, 5.00}, {1000, 4.80}, {2000, 4.75}}},
       1000,
       24725,
       .5},
      {"the same with 2 % and 3 % (wizedu.com 608973)",
       {.demand = 5000,
        .order_cost = 49,
        .holding_share = .2,
        .breaks = {{1, 5.00}, {1000, 4.90}, {2000, 4.85}}},
       1000,
       25235,
       .5},
      {"coursehero 11860113, the first tier's quantity lies outside its own range (computed)",
       {.demand = 60000,
        .order_cost = 8.50,
        .holding_share = .2,
        .breaks = {{1, 5.00}, {1000, 4.50}, {2000, 4.25}}},
       2000,
       256105,
       .5}};
  for (const Row& row : rows) {
    CAPTURE(row.source);
    const Lot lot = best_lot(row.terms);
    CHECK(lot.quantity == row.quantity);
    CHECK(near_abs(lot.cost.total(), row.cost, row.printed));
  }
}

TEST_CASE("other quantities of the printed examples cost what is printed") {
  LotTerms bags{
      .demand = 600, .order_cost = 8, .holding_share = .2, .breaks = {{1, .30}, {500, .29}, {1000, .28}}};
  CHECK(near_abs(lot_cost(bags, 400).total(), 204.00, .005));
  CHECK(near_abs(lot_cost(bags, 1000).total(), 200.80, .005));
  LotTerms first{
      .demand = 1000, .order_cost = 200, .holding_share = .2, .breaks = {{1, 500}, {200, 475}, {500, 450}}};
  CHECK(near_abs(lot_cost(first, 200).total(), 485500, .5));
  CHECK(near_abs(lot_cost(first, 63).total(), 506324.56, .5));  // printed for 63.25
}

TEST_CASE("incremental price breaks: dearer, so the order stays smaller") {
  // Nahmias, same bags (from memory): 400 at 204.00; 519 costs 204.58.
  LotTerms bags{.demand = 600,
                .order_cost = 8,
                .holding_share = .2,
                .breaks = {{1, .30}, {500, .29}, {1000, .28}},
                .discount = Discount::incremental};
  CHECK(best_lot(bags).quantity == 400);
  CHECK(near_abs(lot_cost(bags, 400).total(), 204.00, .005));
  CHECK(near_abs(lot_cost(bags, 519).total(), 204.58, .005));
  // Snyder and Shen, incremental (stockpyl, eoq.py): 1481.89 at 222762.81; whole sheets come within a cent.
  LotTerms tiers{.demand = 2400,
                 .order_cost = 150,
                 .holding_share = .25,
                 .breaks = {{1, 100}, {300, 90}, {600, 80}},
                 .discount = Discount::incremental};
  const Lot lot = best_lot(tiers);
  CHECK(lot.quantity == 1482);
  CHECK(near_abs(lot.cost.total(), 222762.8136845483, .01));
}

TEST_CASE("room on the shelf caps the order") {
  // Silver, Pyke and Thomas, limited shelf life (from memory): 24 a year, order 40, holding 3 a year on a
  // price of 30; the economic quantity is 25.3, half a year allows 12, which costs 98 beside the
  // goods.
  LotTerms terms{.demand = 24, .order_cost = 40, .holding_share = .1, .breaks = {{1, 30}}};
  CHECK(near_abs(economic_quantity(24, 40, 3), 25.298, 5e-4));
  CHECK(best_lot(terms).quantity == 25);
  terms.most = 12;
  const Lot lot = best_lot(terms);
  CHECK(lot.quantity == 12);
  CHECK(near_abs(lot.cost.ordering + lot.cost.holding, 98.00, .005));
}

TEST_CASE("a smallest order above what there is room for is taken and told") {
  const LotTerms terms{.demand = 6,
                       .order_cost = 10,
                       .holding_share = .2,
                       .breaks = {{1, 40}},
                       .pack = 10,
                       .least = 20,
                       .most = 5};
  const Lot lot = best_lot(terms);
  CHECK(lot.quantity == 20);
  CHECK(lot.above_most);
}

TEST_CASE("expected expiry of a batch agrees with the exact sums") {
  // Poisson 2 a month, 12 months; computed with scipy 1.10.1.
  const Law year = Law::poisson(24.0);
  const std::vector<std::pair<int, double>> table{{12, .004250},  {18, .217982},  {20, .526521},
                                                  {24, 1.947636}, {30, 6.295514}, {36, 12.020092}};
  for (const auto& [s, expected] : table) CHECK(near_abs(expected_expiry(year, s), expected, 5e-7));
  // All used in time with 95 %: the largest s with P(D >= s) >= .95.
  int all_used = 0;
  while (1.0 - year.at_most(all_used) >= .95) ++all_used;
  CHECK(all_used == 16);
}

TEST_CASE("what an order loses to age grows with it, from nothing to all of the last one") {
  // Chiu's formula on laws that can be done in the head. Always 10 until the life ends: of 3 before and 7 or
  // less none is lost, of 9 two.
  const Aging sure{Law::exactly(10), 3};
  CHECK(expected_loss(sure, 7) == 0.0);
  CHECK(expected_loss(sure, 9) == 2.0);
  // 0 or 10 with even chances: half the time all 4 are lost, and the 3 before them are no loss of theirs.
  const Aging either{Law({.5, 0, 0, 0, 0, 0, 0, 0, 0, 0, .5}), 3};
  CHECK(near_rel(expected_loss(either, 4), 2.0, 1e-12));
}

TEST_CASE("the best lot of what grows old costs least of all, as a sum over Poisson terms has it") {
  // Ten a month, lead 1, life 2 months, reorder point 15 (95 % of Poisson(10)); order 12, holding 20 % of 20.
  // scipy.stats.poisson summed term by term (1.10.1): a lot of 8 loses .0273 of itself and costs 222.36 a
  // month beside the reserve, the least of all.
  LotTerms terms{.demand = 120, .order_cost = 12, .holding_share = .2, .breaks = {{1, 20}}};
  CHECK(best_lot(terms).quantity > 20);
  terms.aging = Aging{Law::poisson(30.0), 15};
  const Lot lot = best_lot(terms);
  CHECK(lot.quantity == 8);
  CHECK(near_abs(expected_loss(*terms.aging, 8) / 8, .0273, 5e-5));
  CHECK(near_abs(lot.cost.total() / 12, 222.36, .005));
  for (int q = 1; q < 60; ++q) CHECK(lot_cost(terms, q).total() >= lot.cost.total());
}

TEST_CASE("the best lot is the best of all whole packs") {
  CHECK(rc::check([] {
    const auto price = [] { return *rc::gen::inRange(100, 5000) / 100.0; };
    LotTerms terms{.demand = *rc::gen::inRange(1, 400) / 1.0,
                   .order_cost = *rc::gen::inRange(0, 100) / 1.0,
                   .holding_share = *rc::gen::inRange(5, 60) / 100.0,
                   .breaks = {{1, price()}, {10, price()}, {40, price()}},
                   .discount = *rc::gen::element(Discount::all_units, Discount::incremental),
                   .pack = *rc::gen::inRange(1, 8),
                   .least = *rc::gen::inRange(1, 20)};
    const Lot lot = best_lot(terms);
    RC_ASSERT(lot.quantity % terms.pack == 0);
    RC_ASSERT(lot.quantity >= terms.least);
    for (int q = rounded_to_packs(1, terms.pack, terms.least); q < 3000; q += terms.pack)
      RC_ASSERT(lot_cost(terms, q).total() >= lot.cost.total() - 1e-9);
  }));
}

TEST_CASE("Cantelli's bound lies above the chance of any law, and on it for the two values that reach it") {
  for (const double mean : {0.5, 4.0, 30.0})
    for (int s = 0; s < mean; ++s)
      CHECK(Law::poisson(mean).at_most(s) <= most_chance_up_to(mean, mean, s) + 1e-12);
  // 0 with a chance of 1/5, else 5: mean 4, variance 4; no law of these is 0 more often.
  const Law two_values({.2, 0, 0, 0, 0, .8});
  CHECK(near_rel(most_chance_up_to(4.0, 4.0, 0.0), two_values.at_most(0), 1e-12));
}
