// SPDX-License-Identifier: MIT
// Draws, quantiles and shares against what can be said exactly about them.
#include "heat/ranges.h"

#include <rapidcheck.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <stdexcept>

#include "heat/cases.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

using testing::near_abs;
using testing::near_rel;

TEST_CASE("a bound for 95 % of all draws with 95 % confidence is Wilks's order statistic") {
  // Wilks 1941, as tabled for tolerance limits: 59 draws are the fewest whose largest does; the second
  // largest does from 93 on, the third from 124, the fourth from 153. Of very many the place is the binomial
  // law's normal limit, n / 20 - 1.645 (0.0475 n)^1/2, rounded up: 949.3 of 20 000, 4886.6 of 100 000.
  struct Row {
    std::size_t draws;
    std::size_t from_top;
  };
  for (const Row& row : {Row{1, 1}, Row{20, 1}, Row{59, 1}, Row{92, 1}, Row{93, 2}, Row{123, 2}, Row{124, 3},
                         Row{128, 3}, Row{152, 3}, Row{153, 4}, Row{20000, 950}, Row{100000, 4887}}) {
    CAPTURE(row.draws);
    std::vector<double> values;
    for (std::size_t i = 0; i < row.draws; ++i) values.push_back(static_cast<double>((i * 7919) % row.draws));
    CHECK(surely_enough_for(values, 0.95) == static_cast<double>(row.draws - row.from_top));
  }
}

TEST_CASE("every stratum of every input is drawn exactly once") {
  CHECK(rc::check([] {
    const auto samples = static_cast<std::size_t>(*rc::gen::inRange(1, 300));
    const Hypercube cube(samples, {"a", "b", "c"}, static_cast<std::uint64_t>(*rc::gen::inRange(0, 1000000)));
    for (std::size_t j = 0; j < 3; ++j) {
      std::vector<bool> seen(samples, false);
      for (std::size_t i = 0; i < samples; ++i) {
        const double u = cube.at(i, j);
        RC_ASSERT(u >= 0.0 && u < 1.0);
        seen[static_cast<std::size_t>(u * static_cast<double>(samples))] = true;
      }
      RC_ASSERT(std::all_of(seen.begin(), seen.end(), [](bool s) { return s; }));
    }
  }));
}

TEST_CASE(
    "a seed gives the same draws, another seed others, and an input keeps its draws when others come and "
    "go") {
  const Hypercube first(64, {"a", "b"}, 1);
  const Hypercube again(64, {"a", "b"}, 1);
  const Hypercube other(64, {"a", "b"}, 2);
  const Hypercube more(64, {"z", "b", "a"}, 1);
  for (std::size_t i = 0; i < 64; ++i) {
    CHECK(first.at(i, 0) == again.at(i, 0));
    CHECK(first.at(i, 0) == more.at(i, 2));
  }
  CHECK(first.at(0, 0) != other.at(0, 0));
  CHECK(first.at(0, 0) != first.at(0, 1));
}

TEST_CASE("a lopsided range is drawn below its value as often as above") {
  const Range lopsided{3.0, 2.0, 10.0};
  CHECK(value_at(lopsided, 0.0) == 2.0);
  CHECK(value_at(lopsided, 0.5) == 3.0);
  CHECK(near_rel(value_at(lopsided, 1.0), 10.0, 1e-12));
  CHECK(near_rel(value_at(lopsided, 0.25), 2.5, 1e-12));
  CHECK(near_rel(value_at(lopsided, 0.75), 6.5, 1e-12));
}

TEST_CASE("quantiles are those of Hyndman and Fan's type 7") {
  // Hyndman & Fan, Am Stat 50 (1996) 361; 1 2 3 4 10: quartiles 2 and 4, 90 % 7.6, as numpy and R give by
  // default.
  const std::vector<double> v{10.0, 1.0, 3.0, 2.0, 4.0};
  CHECK(near_abs(quantile(v, 0.25), 2.0, 1e-12));
  CHECK(near_abs(quantile(v, 0.5), 3.0, 1e-12));
  CHECK(near_abs(quantile(v, 0.9), 7.6, 1e-12));
  CHECK(near_abs(quantile(v, 0.0), 1.0, 1e-12));
  CHECK(near_abs(quantile(v, 1.0), 10.0, 1e-12));
  CHECK(near_abs(quantile({5.0}, 0.95), 5.0, 1e-12));
}

TEST_CASE("bounds of a uniform result are its 5 and 95 per cent") {
  const Hypercube cube(200, {"a"}, 7);
  std::vector<double> v;
  for (std::size_t i = 0; i < 200; ++i) v.push_back(value_at({1.0, 0.0, 2.0}, cube.at(i, 0)));
  const Range r = spread(v, 1.0);
  CHECK(r.value == 1.0);
  CHECK(spread(v, 5.0).high == 5.0);
  CHECK(near_abs(r.low, 0.1, 0.01));
  CHECK(near_abs(r.high, 1.9, 0.01));
}

TEST_CASE("shares of variance are those of a sum of independent inputs") {
  // Y = 3 a + 1 b of uniform inputs: 9/10 and 1/10. 200 stratified draws: correlations to a few per cent.
  const Hypercube cube(200, {"a", "b", "idle"}, 3);
  std::vector<double> v;
  for (std::size_t i = 0; i < 200; ++i) v.push_back(3.0 * cube.at(i, 0) + cube.at(i, 1));
  const std::vector<double> shares = first_order_shares(v, cube);
  CHECK(near_abs(shares[0], 0.9, 0.05));
  CHECK(near_abs(shares[1], 0.1, 0.1));
  CHECK(shares[2] < 0.05);
  CHECK(first_order_shares(std::vector<double>(200, 1.0), cube)[0] == 0.0);
}

}  // namespace
}  // namespace warmsheet::heat_tests
