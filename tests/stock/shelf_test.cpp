// SPDX-License-Identifier: MIT
// The simulated shelf against closed forms: each check uses the 95 % confidence interval of the simulation's
// own stretches, doubled (four standard errors), with fixed seeds.
#include "stock/shelf.h"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <vector>

#include "stock/reorder.h"
#include "stock/summary.h"
#include "support.h"
#include "support/near.h"

using namespace warmsheet::stock;
using warmsheet::testing::near_abs;
using warmsheet::testing::near_rel;
using warmsheet::testing::poisson_moments;

namespace {

struct Counted {
  Estimate cycle;
  Estimate fill;
  Estimate on_hand;
};

/// Many stretches of 60 months, the first 12 not counted.
Counted count(double per_month, const ShelfRules& rules, const OrderPolicy& policy, int stretches) {
  constexpr std::size_t settling = 12;
  constexpr int months = 72;
  std::vector<double> cycle, fill, on_hand;
  for (int s = 0; s < stretches; ++s) {
    const auto seed = static_cast<std::uint64_t>(s);
    const ShelfRun run = keep_shelf(poisson_moments(per_month, months, seed), months,
                                    {policy.order_up_to, {}}, rules, policy, seed);
    double asked = 0, served = 0, lying = 0, cycles = 0, late = 0;
    for (std::size_t m = settling; m < run.months.size(); ++m) {
      asked += run.months[m].asked;
      served += run.months[m].served;
      lying += run.months[m].on_hand;
      cycles += run.months[m].deliveries;
      late += run.months[m].late_deliveries;
    }
    cycle.push_back(1.0 - late / cycles);
    fill.push_back(served / asked);
    on_hand.push_back(lying / static_cast<double>(run.months.size() - settling));
  }
  return {estimate(cycle), estimate(fill), estimate(on_hand)};
}

bool agrees(const Estimate& seen, double expected) {
  return std::abs(seen.mean - expected) <= 2.0 * seen.half_width;
}

}  // namespace

TEST_CASE(
    "a watched shelf keeps the cycle service, fill rate and stock that the exact model of unit demands "
    "gives") {
  // Hadley and Whitin's exact (r, Q) model for Poisson demand and constant lead time (textbook; from memory):
  // an order covers D_L <= r; positions r+1..r+Q are equally likely.
  struct Row {
    double per_month, lead;
    int r, q;
  };
  for (const Row& row :
       {Row{5.0, 0.6, 4, 6}, Row{1.5, 2.0, 3, 5}, Row{20.0, 0.25, 7, 12}, Row{2.0, 0.5, 0, 1}}) {
    CAPTURE(row.per_month);
    const Law over_lead = Law::poisson(row.per_month * row.lead);
    const Counted seen =
        count(row.per_month, {{row.lead, row.lead, row.lead}, {}}, {row.r, row.r + row.q}, 150);
    CHECK(agrees(seen.cycle, over_lead.at_most(row.r)));
    CHECK(agrees(seen.fill, continuous_fill(over_lead, row.r, row.q)));
    double lying = 0.0;
    for (int position = row.r + 1; position <= row.r + row.q; ++position)
      lying += over_lead.leftover(position) / row.q;
    CHECK(agrees(seen.on_hand, lying));
    CHECK(seen.fill.half_width < 0.02);  // the interval is narrow enough to mean something
  }
}

TEST_CASE("a shelf under review keeps the exact fill rate, not the textbooks' short cut") {
  // Poisson 0.5 a period, lead time 4, review 1: exact values computed with scipy 1.10.1 (Sobel's formula).
  const std::vector<std::pair<int, double>> exact{{3, .609644}, {4, .808739}, {5, .921076}, {6, .971991}};
  const std::vector<double> short_cut{.173609, .658457, .876100, .960143};
  for (std::size_t i = 0; i < exact.size(); ++i) {
    const auto& s = exact[i].first;
    const auto& fill = exact[i].second;
    CAPTURE(s);
    const Counted seen = count(0.5, {{4.0, 4.0, 4.0}, {}}, {s - 1, s, 1.0}, 400);
    CHECK(agrees(seen.fill, fill));
    CHECK(!agrees(seen.fill, short_cut[i]));
  }
}

TEST_CASE("what grows too old agrees with the expected rest of a batch") {
  // Poisson 2 a month, a life of 12 months: E[(S - D)+] computed with scipy 1.10.1.
  for (const auto& row : std::vector<std::pair<int, double>>{{20, .526521}, {24, 1.947636}, {30, 6.295514}}) {
    const int s = row.first;
    std::vector<double> expired;
    for (std::uint64_t seed = 0; seed < 2000; ++seed) {
      const ShelfRun run =
          keep_shelf(poisson_moments(2.0, 13, seed), 13, {s, {}}, {{1, 1, 1}, 12.0}, std::nullopt, seed);
      expired.push_back(std::accumulate(run.months.begin(), run.months.end(), 0.0,
                                        [](double sum, const ShelfMonth& m) { return sum + m.expired; }));
    }
    CAPTURE(s);
    CHECK(agrees(estimate(expired), row.second));
  }
}

TEST_CASE(
    "no sheet appears or disappears: start and orders are served, lie there, are too old or on their way") {
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    const OrderPolicy policy{4, 14, seed % 2 == 0 ? 0.25 : 0.0, 4, 8};
    const auto taken = poisson_moments(6.0, 24, seed);
    const ShelfRun run = keep_shelf(taken, 24, {9, {{4, 0.1}}}, {{0.1, 0.3, 0.9}, 3.0}, policy, seed);
    int ordered = 0, expired = 0, asked = 0;
    for (const ShelfMonth& month : run.months) {
      for (const int sheets : month.orders) {
        CHECK(sheets % policy.pack == 0);
        CHECK(sheets >= policy.least);
        ordered += sheets;
      }
      expired += month.expired;
      asked += month.asked;
    }
    CHECK(asked == static_cast<int>(taken.size()));
    const int there_or_coming = 9 + 4 + ordered - expired - asked;
    CHECK(run.months.back().at_end <= there_or_coming);
    CHECK(run.months.back().at_end >= there_or_coming - ordered);
  }
}

TEST_CASE(
    "an order is whole packs, at least the smallest order, and lifts the position above the reorder point") {
  for (int position = -6; position <= 12; ++position)
    for (const int pack : {1, 4, 5})
      for (const int least : {1, 8}) {
        const OrderPolicy policy{5, 12, 0.0, pack, least};
        const int sheets = order_now(policy, position);
        CAPTURE(position);
        CHECK((sheets > 0) == (position <= policy.reorder_point));
        if (sheets == 0) continue;
        CHECK(sheets % pack == 0);
        CHECK(sheets >= least);
        CHECK(position + sheets > policy.reorder_point);
      }
}

TEST_CASE("the desk example orders what the problem's answer says") {
  // Cachon and Terwiesch, test bank: order-up-to 220 with 100 on hand and 85 on order is 35; with 160 and 65
  // nothing.
  CHECK(order_now({219, 220}, 185) == 35);
  CHECK(order_now({219, 220}, 225) == 0);
}

TEST_CASE("lead times are triangular between their bounds") {
  // Mean (a+b+c)/3 and variance (a2+b2+c2-ab-ac-bc)/18 of the triangular law (textbook).
  const LeadTime lead{1.0, 2.0, 6.0};
  double sum = 0, squares = 0;
  constexpr int n = 100'000;
  for (int i = 0; i < n; ++i) {
    const double x = lead.draw((i + 0.5) / n);
    CHECK_MESSAGE((x >= 1.0 && x <= 6.0), x);
    sum += x;
    squares += x * x;
  }
  CHECK(near_rel(sum / n, 3.0, 1e-6));
  CHECK(near_rel(squares / n - 9.0, 21.0 / 18.0, 1e-5));
  CHECK(lead.mean() == 3.0);
}

TEST_CASE("the demand to cover, read off Poisson withdrawals, is Poisson") {
  std::vector<std::vector<double>> runs;
  for (std::uint64_t seed = 0; seed < 200; ++seed) runs.push_back(poisson_moments(4.0, 60, seed));
  for (const double review : {0.0, 0.5}) {
    const Law law = demand_to_cover(runs, 60, {0.75, 0.75, 0.75}, review, 1);
    const Law expected = Law::poisson(4.0 * (review + 0.75));
    CAPTURE(review);
    // 24 000 windows, neighbours overlapping: about 5000 independent ones, four standard errors of a share.
    for (int k = 0; k <= 8; ++k)
      CHECK(near_abs(law.at_most(k), expected.at_most(k), 4.0 * std::sqrt(.25 / 5000.0)));
    CHECK(law.quantile(.95) == expected.quantile(.95));
  }
}

TEST_CASE("long lead times count as often as they come") {
  // Wald's identity: 4 a month over a triangular lead time of 1 to 24 months, mean (1 + 6 + 24) / 3. Runs of
  // 60 months hold a start of any of them in their first 36.
  std::vector<std::vector<double>> runs;
  for (std::uint64_t seed = 0; seed < 200; ++seed) runs.push_back(poisson_moments(4.0, 60, seed));
  const LeadTime lead{1.0, 6.0, 24.0};
  for (const double review : {0.0, 0.5}) {
    const Law law = demand_to_cover(runs, 60, lead, review, 1);
    // Of some 14 000 windows or more; the spread of lead times is 4.7 months, 19 sheets: 1 % is five standard
    // errors.
    CHECK(near_rel(law.mean(), 4.0 * (lead.mean() + review), 0.02));
  }
}
