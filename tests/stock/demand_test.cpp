// SPDX-License-Identifier: MIT
#include "stock/demand.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "stock/summary.h"
#include "support/near.h"

using namespace warmsheet::stock;
using warmsheet::testing::near_abs;

namespace {

Demand two_kinds() {
  Demand demand;
  demand.kinds = {{.per_month = 6.0, .size_shares = {0.25, 0.75}},
                  {.history = {0, 2, 4},
                   .size_shares = {1.0},
                   .scrap_chance = 0.1,
                   .remake_chance = 1.0 - 0.8 / 0.9,
                   .remake_after_months = 0.5}};
  return demand;
}

}  // namespace

TEST_CASE("orthoses a month have the law that was asked for") {
  // Poisson: mean and variance 6. History of 0, 2, 4 with a fifth cut again: mean 2 / 0.8. 6000 months, four
  // standard errors.
  const Demand demand = two_kinds();
  std::vector<double> first, second, large;
  for (std::uint64_t run = 0; run < 100; ++run) {
    std::vector<int> counts(60, 0), others(60, 0);
    int of_large = 0;
    for (const Arrival& a : arrivals(demand, run, 60, false)) {
      ++(a.kind == 0 ? counts : others)[static_cast<std::size_t>(a.month)];
      of_large += a.kind == 0 && a.size == 1 ? 1 : 0;
    }
    for (const int c : counts) first.push_back(c);
    for (const int c : others) second.push_back(c);
    large.push_back(of_large / 60.0);
  }
  CHECK(near_abs(estimate(first).mean, 6.0, 4 * std::sqrt(6.0 / 6000)));
  double squares = 0.0;
  for (const double c : first) squares += (c - 6.0) * (c - 6.0) / static_cast<double>(first.size());
  CHECK(near_abs(squares, 6.0,
                 4 * std::sqrt((6.0 + 2 * 36.0) / 6000)));  // variance of a Poisson sample variance
  CHECK(near_abs(estimate(second).mean, 2.5, 4 * 2.3 / std::sqrt(6000)));
  CHECK(near_abs(estimate(large).mean, 4.5, 4 * std::sqrt(4.5 / 6000)));
  CHECK(near_abs(demand.pieces_per_month(1), 2.5, 1e-12));
}

TEST_CASE(
    "the same run gives the same orthoses, another run others, and a kind does not change its neighbours") {
  const Demand demand = two_kinds();
  const auto a = arrivals(demand, 3, 24, false);
  const auto same = [](const Arrival& x, const Arrival& y) {
    return x.month == y.month && x.kind == y.kind && x.size == y.size;
  };
  CHECK(std::equal(a.begin(), a.end(), arrivals(demand, 3, 24, false).begin(), same));
  CHECK(a.front().month != arrivals(demand, 4, 24, false).front().month);
  Demand more = demand;
  more.kinds.push_back({.per_month = 3.0, .size_shares = {1.0}});
  auto b = arrivals(more, 3, 24, false);
  std::erase_if(b, [](const Arrival& x) { return x.kind == 2; });
  REQUIRE(b.size() == a.size());
  CHECK(std::equal(a.begin(), a.end(), b.begin(), same));
}

TEST_CASE("what is spoiled is cut again at once, what does not fit after its time, from the first month on") {
  // 40 % made again, a month and a half later: the months' means do not depend on how far from the start they
  // are. 400 runs, four standard errors.
  Demand demand;
  demand.kinds = {{.per_month = 5.0, .size_shares = {1.0}, .remake_chance = 0.4, .remake_after_months = 1.5}};
  std::vector<double> first, last;
  for (std::uint64_t run = 0; run < 400; ++run) {
    int in_first = 0, in_last = 0;
    for (const Arrival& a : arrivals(demand, run, 24, false)) {
      in_first += a.month < 1.0 ? 1 : 0;
      in_last += a.month >= 23.0 ? 1 : 0;
    }
    first.push_back(in_first);
    last.push_back(in_last);
  }
  const double mean = 5.0 / 0.6;
  CHECK(near_abs(estimate(last).mean, mean, 4 * std::sqrt(2.0 * mean / 400)));
  CHECK(near_abs(estimate(first).mean, mean - 5.0 * 0.4 * 0.4 * 0.4 / 0.6, 4 * std::sqrt(2.0 * mean / 400)));
  // One orthosis a month, always made again once more or not: pairs lie the stated time apart.
  demand.kinds = {{.history = {1}, .size_shares = {1.0}, .remake_chance = 0.3, .remake_after_months = 0.25}};
  const std::vector<Arrival> made = arrivals(demand, 1, 60, false);
  int again = 0;
  for (const Arrival& a : made)
    again += std::any_of(made.begin(), made.end(),
                         [&](const Arrival& b) { return std::abs(b.month - a.month - 0.25) < 1e-12; })
                 ? 1
                 : 0;
  // A remake of an orthosis made before the start has no first one in the list.
  CHECK(again <= static_cast<int>(made.size()) - 60);
  CHECK(again >= static_cast<int>(made.size()) - 62);
  CHECK(again > 10);
}

TEST_CASE("season and growth change the mean of the months they belong to") {
  Demand demand;
  demand.kinds = {{.per_month = 100.0, .size_shares = {1.0}}};
  demand.season = {2, 1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1};
  demand.growth_a_year = 0.21;
  demand.first_month = 6;  // July
  CHECK(demand.factor(0) == 0.0);
  CHECK(near_abs(demand.factor(6), 2.0 * 1.1, 1e-12));
  int first = 0, january = 0;
  for (const Arrival& a : arrivals(demand, 1, 12, true)) {
    first += a.month < 1.0 ? 1 : 0;
    january += a.month >= 6.0 && a.month < 7.0 ? 1 : 0;
  }
  CHECK(first == 0);
  CHECK(near_abs(january, 220.0, 4 * std::sqrt(220.0)));
}

TEST_CASE("kinds with a history share its months") {
  // Two kinds whose histories are the same must be asked for equally often in every simulated month.
  Demand demand;
  demand.kinds = {{.history = {1, 5, 9, 2}, .size_shares = {1.0}},
                  {.history = {1, 5, 9, 2}, .size_shares = {1.0}}};
  std::vector<int> difference(48, 0);
  for (const Arrival& a : arrivals(demand, 1, 48, false))
    difference[static_cast<std::size_t>(a.month)] += a.kind == 0 ? 1 : -1;
  CHECK(std::all_of(difference.begin(), difference.end(), [](int d) { return d == 0; }));
}
