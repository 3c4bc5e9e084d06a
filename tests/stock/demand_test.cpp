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
                  {.history = {0, 2, 4}, .size_shares = {1.0}, .extra_chance = 0.2}};
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
  CHECK(demand.pieces_per_month(1) == 2.5);
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
