// SPDX-License-Identifier: MIT
#include "stock/reorder.h"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "stock/lot.h"
#include "stock/probability.h"
#include "support/near.h"

using namespace warmsheet::stock;
using warmsheet::testing::near_abs;
using warmsheet::testing::near_rel;

namespace {
/// Books round z = 1.645 up to 1.65; held against the answer a book prints, that much is allowed.
constexpr double book_z_excess = 1.65 - 1.644853627;
const double root2 = std::sqrt(2.0);
const double root3 = std::sqrt(3.0);
}  // namespace

TEST_CASE("normal reorder points agree with printed course and textbook examples") {
  struct Row {
    const char* source;
    NormalDemand demand;
    double service;
    double book;
    double book_rounding;
    double exact;
  };
  const std::vector<Row> rows{
      {"Gallien 2002, course slides: weekly N(400, 80), 2 weeks, 95 %",
       {800, 80 * root2},
       .95,
       986.676,
       1e-3,
       986.094},
      {"same, review every 2.5 weeks", {400 * 4.5, 80 * std::sqrt(4.5)}, .95, 2080.014, 1e-3, 2079.141},
      {"Taylor, ch. 16: daily N(30, 5), 10 days (answer from memory)",
       {300, 5 * std::sqrt(10.0)},
       .95,
       326.089,
       1e-3,
       326.007},
      {"wizedu 8099: 70 a day, 4 days, SD 15", {280, 15}, .95, 304.75, 5e-3, 304.673},
      {"Nahmias, specialty shop: N(100, 25), 98 % (from memory)", {100, 25}, .98, 151.344, 2e-1, 151.344}};
  for (const Row& row : rows) {
    CAPTURE(row.source);
    const double level = normal_cycle_level(row.demand, row.service);
    CHECK(near_abs(level, row.exact, 5e-4));
    CHECK(near_abs(level, row.book, book_z_excess * row.demand.sd + row.book_rounding));
  }
}

TEST_CASE("levels of the desk and the shirt example") {
  // Cachon and Terwiesch, test bank (problems read at examlex.com, deck 13, and solutioninn.com); answers
  // computed with scipy 1.10.1. Weekly N(40, 20), three weeks; 1.5 a day, four days, one short 6, one left
  // .01.
  CHECK(near_abs(normal_cycle_level({120, 20 * root3}, .98), 191.144, 5e-4));
  const Law over_protection = Law::poisson(6.0);
  CHECK(near_abs(1.0 - over_protection.at_most(8), .152763, 5e-7));
  CHECK(over_protection.quantile(6.0 / 6.01) == 14);
}

TEST_CASE("order q at r: fill and cost of Snyder and Shen's example") {
  // Snyder and Shen, Fundamentals of Supply Chain Theory, example 5.8, in stockpyl (MIT), rq.py; fill
  // computed with scipy.
  const Law over_lead = Law::poisson(3.0);
  CHECK(near_abs(continuous_fill(over_lead, 3, 5), .866632830, 5e-10));
  const RunningCosts costs{1.5, 100.0, 20.0, 150.0};
  CHECK(near_rel(running_cost(costs, over_lead, 3, 5), 107.92358063314975, 1e-12));
  double best = std::numeric_limits<double>::infinity();
  int best_r = 0;
  int best_q = 0;
  for (int r = -5; r <= 19; ++r)
    for (int q = 1; q <= 29; ++q)
      if (const double cost = running_cost(costs, over_lead, r, q); cost < best)
        best = cost, best_r = r, best_q = q;
  CHECK(best_r == 3);
  CHECK(best_q == 5);
}

TEST_CASE("the smallest reorder point for a fill rate is the smallest") {
  for (const double mean : {0.4, 3.0, 12.0})
    for (const int q : {1, 4, 10})
      for (const double target : {.8, .95, .99}) {
        const Law law = Law::poisson(mean);
        const int r = reorder_point_for_fill(law, q, target);
        CHECK(continuous_fill(law, r, q) >= target);
        CHECK((r == -q || continuous_fill(law, r - 1, q) < target));
      }
}

TEST_CASE("newsvendor levels and costs agree with printed examples") {
  // stockpyl (MIT), newsvendor.py and README: Snyder and Shen examples 4.3 and 4.7, N(120, 10), Poisson(50).
  const double ratio = .70 / .88;
  CHECK(near_rel(normal_cycle_level({50, 8}, ratio), 56.60395592743389, 1e-12));
  CHECK(near_rel(normal_cycle_level({120, 10}, .9), 132.815515655446, 1e-12));
  const auto cost = [](const Law& law, int level, double one_short, double one_left) {
    return one_left * law.leftover(level) + one_short * law.shortfall(level);
  };
  const Law fifty = Law::poisson(50.0);
  CHECK(fifty.quantile(ratio) == 56);
  CHECK(near_rel(cost(fifty, 56, .70, .18), 1.797235211809178, 1e-12));
  const Law six = Law::poisson(6.0);
  CHECK(six.quantile(.8) == 8);
  CHECK(near_rel(cost(six, 8, 4, 1), 3.570106945770941, 1e-12));
  CHECK(near_rel(cost(six, 5, 4, 1), 6.590296024616343, 1e-12));
  // Cachon and Terwiesch, wetsuit: N(3192, 1181), short 80, left 20; further problems read at tutorsglobe.com
  // (52554787, 51686518); computed with scipy 1.10.1.
  CHECK(near_abs(normal_cycle_level({3192, 1181}, .8), 4185.955, 5e-4));
  CHECK(near_abs(normal_cycle_level({1000, 200}, .8), 1168.324, 5e-4));
  CHECK(near_abs(normal_cycle_level({1000, 200}, .6), 1050.669, 5e-4));
}

TEST_CASE("the cost of one short that a service implies leads back to that service") {
  for (const double service : {.5, .8, .95, .99}) {
    const double one_short = implied_shortage_cost(service, 3.0);
    CHECK(near_rel(one_short / (one_short + 3.0), service, 1e-12));
  }
}
