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

TEST_CASE("desk example: order-up-to levels, fill and holding of a weekly normal demand") {
  // Cachon and Terwiesch, test bank (problem read at examlex.com, deck 13); answers computed with
  // scipy 1.10.1.
  const NormalDemand over_protection{120, 20 * root3};
  CHECK(near_abs(normal_cycle_level(over_protection, .98), 191.144, 5e-4));
  const double for_fill =
      over_protection.mean + over_protection.sd * inverse_standard_loss((1 - .98) * 40 / over_protection.sd);
  CHECK(near_abs(for_fill, 175.519, 5e-4));  // the short cut 1 - n(S)/mean
  const double on_hand = 120.0 - over_protection.mean + shortfall(over_protection, 120.0);
  CHECK(near_abs(on_hand, 13.8198, 5e-5));
  const double over_lead_200 = shortfall({80, 20 * root2}, 200.0);
  CHECK(near_abs(1.0 - shortfall(over_protection, 200.0) / 40.0, .996915, 5e-7));
  CHECK(near_abs(1.0 - (shortfall(over_protection, 200.0) - over_lead_200) / 40.0, .996917, 5e-7));
}

TEST_CASE(
    "shirt example: Poisson demand with daily review, where the two fill conventions choose different "
    "levels") {
  // Cachon and Terwiesch (problem read at solutioninn.com); answers computed with scipy 1.10.1. 1.5 a day, 3
  // days.
  const Law over_lead = Law::poisson(4.5);
  const Law over_protection = Law::poisson(6.0);
  CHECK(near_abs(1.0 - over_protection.at_most(8), .152763, 5e-7));
  CHECK(near_abs(critical_ratio(6.0, .01), .998336, 5e-7));
  CHECK(over_protection.quantile(critical_ratio(6.0, .01)) == 14);
  CHECK(near_abs(periodic_fill_short_cut(over_lead, over_protection, 10), .948443, 5e-7));
  CHECK(near_abs(periodic_fill_short_cut(over_lead, over_protection, 9), .892494, 5e-7));
  CHECK(near_abs(periodic_fill(over_lead, over_protection, 9), .910710, 5e-7));
  CHECK(periodic_level_for_fill(over_lead, over_protection, .90) == 9);
}

TEST_CASE("periodic fill of a slow mover by both conventions") {
  // Poisson 0.5 a week, lead time 4 weeks, review every week; computed with scipy 1.10.1.
  const std::vector<double> short_cut{-.738765, .173609, .658457, .876100, .960143, .988517, .997011};
  const std::vector<double> exact{.343917, .609644, .808739, .921076, .971991, .991298, .997598};
  const Law over_lead = Law::poisson(2.0);
  const Law over_protection = Law::poisson(2.5);
  for (int s = 2; s <= 8; ++s) {
    CAPTURE(s);
    const auto i = static_cast<std::size_t>(s - 2);
    CHECK(near_abs(periodic_fill_short_cut(over_lead, over_protection, s), short_cut[i], 5e-7));
    CHECK(near_abs(periodic_fill(over_lead, over_protection, s), exact[i], 5e-7));
    CHECK(periodic_level_for_fill(over_lead, over_protection, exact[i] - 1e-6) == s);
  }
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
  const NormalDemand small{50, 8};
  const double ratio = critical_ratio(.70, .18);
  CHECK(near_rel(normal_cycle_level(small, ratio), 56.60395592743389, 1e-12));
  CHECK(near_rel(newsvendor_cost(small, 56.60395592743389, .70, .18), 1.9976051931766445, 1e-12));
  CHECK(near_rel(newsvendor_cost(small, 60.0, .70, .18), 2.156131552870387, 1e-12));
  // Printed from a quadrature: by L(-z) = L(z) + z the line above makes it 7.356131552870.
  CHECK(near_rel(newsvendor_cost(small, 40.0, .70, .18), 7.35613154776623, 1e-9));
  CHECK(near_rel(newsvendor_cost(small, 40.0, .70, .18), 7.356131552870387, 1e-12));
  CHECK(near_rel(normal_cycle_level({120, 10}, critical_ratio(18, 2)), 132.815515655446, 1e-12));
  CHECK(near_rel(newsvendor_cost({120, 10}, 132.815515655446, 18, 2), 35.09966638649737, 1e-12));
  const Law fifty = Law::poisson(50.0);
  CHECK(fifty.quantile(ratio) == 56);
  CHECK(near_rel(newsvendor_cost(fifty, 56, .70, .18), 1.797235211809178, 1e-12));
  const Law six = Law::poisson(6.0);
  CHECK(six.quantile(critical_ratio(4, 1)) == 8);
  CHECK(near_rel(newsvendor_cost(six, 8, 4, 1), 3.570106945770941, 1e-12));
  CHECK(near_rel(newsvendor_cost(six, 5, 4, 1), 6.590296024616343, 1e-12));
}

TEST_CASE("the wetsuit example: best quantity, lost sales and what is left over") {
  // Cachon and Terwiesch, Matching Supply with Demand: N(3192, 1181), short 80, left 20. Exact values
  // computed with scipy 1.10.1; the book's 4196 uses a table's z = .85 and prints 1134 left over.
  const NormalDemand demand{3192, 1181};
  const double best = normal_cycle_level(demand, critical_ratio(80, 20));
  CHECK(near_abs(best, 4185.955, 5e-4));
  CHECK(near_abs(shortfall(demand, best), 131.844, 5e-4));
  CHECK(near_abs(best - demand.mean + shortfall(demand, best), 1125.799, 1e-3));
  CHECK(near_abs(4196 - demand.mean + shortfall(demand, 4196), 1134, 1.0));
}

TEST_CASE("more newsvendor problems with two costs") {
  // Problems read at tutorsglobe.com (52554787, 51686518); answers computed with scipy 1.10.1.
  CHECK(near_abs(normal_cycle_level({1000, 200}, critical_ratio(40, 10)), 1168.324, 5e-4));
  CHECK(near_abs(shortfall({1000, 200}, 1168.324), 22.328, 1e-3));
  CHECK(near_abs(normal_cycle_level({1000, 200}, critical_ratio(30, 20)), 1050.669, 5e-4));
  CHECK(near_abs(shortfall({1000, 200}, 1050.669), 57.001, 1e-3));
}

TEST_CASE("the cost of one short that a service implies leads back to that service") {
  for (const double service : {.5, .8, .95, .99})
    CHECK(near_rel(critical_ratio(implied_shortage_cost(service, 3.0), 3.0), service, 1e-12));
}
