// SPDX-License-Identifier: MIT
#include "stock/law.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <map>

#include "stock/probability.h"
#include "support/near.h"

using namespace warmsheet::stock;
using warmsheet::testing::near_abs;
using warmsheet::testing::near_rel;

namespace {

/// The slow way, held against nothing but the definition: every number of things, every size of each.
std::vector<double> by_enumeration(const std::vector<double>& count, const std::vector<double>& size,
                                   std::size_t most) {
  std::vector<double> total(most + 1, 0.0);
  std::vector<double> power(most + 1, 0.0);
  power[0] = 1.0;
  for (const double p : count) {
    for (std::size_t s = 0; s <= most; ++s) total[s] += p * power[s];
    std::vector<double> next(most + 1, 0.0);
    for (std::size_t s = 0; s <= most; ++s)
      for (std::size_t j = 0; j < size.size() && s + j <= most; ++j) next[s + j] += power[s] * size[j];
    power = next;
  }
  return total;
}

Law spread(const std::vector<double>& probabilities, std::size_t step) {
  std::vector<double> p((probabilities.size() - 1) * step + 1, 0.0);
  for (std::size_t k = 0; k < probabilities.size(); ++k) p[k * step] = probabilities[k];
  return Law(p);
}

}  // namespace

TEST_CASE("Poisson demand of a mean of 10 has the probabilities of the printed refrigerator example") {
  // Hopp and Spearman, Factory Physics, sec. 2.4.2, as printed at nicky.vanforeest.com (base stock); 6
  // printed digits.
  const std::map<int, double> at_most{{8, .332820},  {9, .457930},  {10, .583040},
                                      {11, .696776}, {12, .791556}, {13, .864464},
                                      {14, .916542}, {15, .951260}, {16, .972958}};
  const Law law = Law::poisson(10.0);
  for (const auto& row : at_most) {
    CAPTURE(row.first);
    CHECK(near_abs(law.at_most(row.first), row.second, 5e-7));
  }
  CHECK(near_abs(law.at_most(14), 0.916541527065, 5e-13));
  CHECK(law.quantile(25.0 / 40.0) == 11);  // same example: holding 15, backorder 25
}

TEST_CASE("the smallest stock for a cycle service agrees with tabulated Poisson quantiles") {
  // Computed with the statistics library scipy 1.10.1 (scipy.stats.poisson.ppf), a general-purpose reference.
  const std::vector<double> targets{.80, .90, .95, .975, .98, .99, .995, .999};
  const std::map<double, std::vector<int>> table{
      {0.25, {1, 1, 1, 2, 2, 2, 2, 3}},       {0.5, {1, 1, 2, 2, 2, 3, 3, 4}},
      {1, {2, 2, 3, 3, 3, 4, 4, 5}},          {1.5, {2, 3, 4, 4, 4, 5, 5, 6}},
      {2, {3, 4, 5, 5, 5, 6, 6, 8}},          {3, {4, 5, 6, 7, 7, 8, 8, 10}},
      {4, {6, 7, 8, 8, 9, 9, 10, 11}},        {5, {7, 8, 9, 10, 10, 11, 12, 13}},
      {6, {8, 9, 10, 11, 12, 12, 13, 15}},    {8, {10, 12, 13, 14, 14, 15, 16, 18}},
      {10, {13, 14, 15, 17, 17, 18, 19, 21}}, {15, {18, 20, 22, 23, 23, 25, 26, 28}},
      {20, {24, 26, 28, 29, 30, 31, 32, 35}}, {30, {35, 37, 39, 41, 42, 43, 45, 48}}};
  for (const auto& row : table) {
    const auto& mean = row.first;
    const auto& smallest = row.second;
    const Law law = Law::poisson(mean);
    for (std::size_t i = 0; i < targets.size(); ++i) {
      CAPTURE(mean);
      CAPTURE(targets[i]);
      CHECK(law.quantile(targets[i]) == smallest[i]);
    }
  }
}

TEST_CASE("compound Poisson demand follows the printed recursion of the textbook example") {
  // Kaas, Goovaerts, Dhaene, Denuit, Modern Actuarial Risk Theory, example of Panjer's recursion (from
  // memory): rate 4, sizes 1, 2, 3 with 1/4, 1/2, 1/4.
  const Law law = compound_poisson(4.0, Law({0.0, 0.25, 0.5, 0.25}));
  const double none = std::exp(-4.0);
  const std::vector<double> ratio{1.0, 1.0, 5.0 / 2.0, 19.0 / 6.0};
  for (std::size_t s = 0; s < ratio.size(); ++s)
    CHECK(near_rel(law.probability(static_cast<int>(s)) / none, ratio[s], 1e-12));
  CHECK(near_rel(law.mean(), 8.0, 1e-12));
  CHECK(near_rel(law.variance(), 18.0, 1e-12));
  CHECK(law.quantile(.5) == 8);
  CHECK(law.quantile(.9) == 14);
  CHECK(law.quantile(.95) == 16);
  CHECK(law.quantile(.99) == 20);
}

TEST_CASE("compound Poisson demand agrees with the probabilities of Klugman, Panjer and Willmot") {
  // Loss Models (2012), example 9.10; data as in the help of the R package actuar (printed there to 5
  // digits: 19/30, 8/30, 1/10); 8 digits computed two ways with numpy.
  const Law law = compound_poisson(3.0, Law({0.0, 19.0 / 30.0, 8.0 / 30.0, .1}));
  const std::vector<double> f{.04978707, .09459543, .12969531, .14752738, .14323760, .12498421, .09990413};
  for (std::size_t s = 0; s < f.size(); ++s)
    CHECK(near_abs(law.probability(static_cast<int>(s)), f[s], 5e-9));
  CHECK(near_abs(law.mean(), 4.4, 1e-12));
  const std::vector<std::pair<double, int>> quantiles{{.5, 4}, {.9, 8}, {.95, 10}, {.975, 11}, {.99, 12}};
  for (const auto& [p, expected] : quantiles) CHECK(law.quantile(p) == expected);
}

TEST_CASE("a compound sum with any law of the count agrees with Klugman, Panjer and Willmot") {
  // Loss Models (2012), example 9.5; values printed to 5 digits, from memory, and computed by convolution
  // with numpy.
  const Law count({.05, .1, .15, .2, .25, .15, .06, .03, .01});
  const Law size = spread({0.0, .15, .2, .25, .125, .075, .05, .05, .05, .025, .025}, 25);
  const Law law = compound(count, size);
  const std::vector<std::pair<int, double>> f{{0, .05},        {25, .015},       {50, .023375},
                                              {75, .034675},   {100, .03257656}, {125, .03578639},
                                              {150, .03980787}};
  for (const auto& [s, expected] : f) CHECK(near_abs(law.probability(s), expected, 5e-9));
  CHECK(near_rel(law.mean(), 314.5, 1e-12));
  const std::vector<std::pair<int, double>> stop_loss{
      {0, 314.5}, {25, 290.75}, {50, 267.375}, {75, 244.584375}, {100, 222.660625}};
  for (const auto& [s, expected] : stop_loss) CHECK(near_abs(law.shortfall(s), expected, 5e-7));
  const std::vector<std::pair<double, int>> quantiles{{.5, 300}, {.9, 575}, {.95, 650}, {.99, 825}};
  for (const auto& [p, expected] : quantiles) CHECK(law.quantile(p) == expected);
}

TEST_CASE("the two routes to a compound Poisson law agree, and agree with enumeration") {
  // Stuttering Poisson (Ward 1978, Management Science 24(6):623-632): rate 1.2, sizes P(k) = .7 * .3^(k-1).
  std::vector<double> geometric{0.0};
  for (double p = .7; p > 1e-18; p *= .3) geometric.push_back(p);
  const Law fast = compound_poisson(1.2, Law(geometric));
  const Law slow = compound(Law::poisson(1.2), Law(geometric));
  const std::vector<double> f{.30119421, .25300314, .18216226, .11628024, .06854766, .03813975};
  for (std::size_t s = 0; s < f.size(); ++s)
    CHECK(near_abs(fast.probability(static_cast<int>(s)), f[s], 5e-9));
  for (int s = 0; s < 40; ++s) CHECK(near_abs(fast.probability(s), slow.probability(s), 1e-14));
  const auto enumerated = by_enumeration(Law::poisson(1.2).probabilities(), geometric, 40);
  for (int s = 0; s < 40; ++s)
    CHECK(near_abs(fast.probability(s), enumerated[static_cast<std::size_t>(s)], 1e-14));
  CHECK(near_rel(fast.mean(), 1.714286, 1e-6));
  CHECK(near_rel(fast.variance(), 3.183673, 1e-6));
}

TEST_CASE("Poisson sums of logarithmic sizes are negative binomial") {
  // Identity (Quenouille 1949): rate -r ln p and theta 1-p give the negative binomial law of r = 2, p = .4.
  std::vector<double> log_series{0.0};
  for (int k = 1; k < 90; ++k) log_series.push_back(std::pow(.6, k) / k / -std::log(.4));
  const Law law = compound_poisson(-2.0 * std::log(.4), Law(log_series));
  const std::vector<double> pmf{.16, .192, .1728, .13824, .10368};
  for (std::size_t s = 0; s < pmf.size(); ++s)
    CHECK(near_abs(law.probability(static_cast<int>(s)), pmf[s], 1e-12));
  CHECK(law.quantile(.9) == 7);
  CHECK(law.quantile(.95) == 8);
  CHECK(law.quantile(.99) == 12);
}

TEST_CASE(
    "sixteenths of a sheet: neither a normal curve nor a Poisson law of the pieces comes near the exact "
    "law") {
  // 18 pieces a month of 1, 2, 3, 4 or 8 sixteenths; quantiles computed by Panjer's recursion with numpy.
  const Law law = compound_poisson(18.0, Law({0.0, .35, .30, .20, .10, 0.0, 0.0, 0.0, .05}));
  CHECK(near_rel(law.mean(), 42.3, 1e-12));
  CHECK(near_abs(std::sqrt(law.variance()), 12.112, 5e-4));
  const std::vector<std::pair<double, int>> quantiles{{.5, 41}, {.9, 58}, {.95, 64}, {.99, 74}};
  for (const auto& [p, expected] : quantiles) CHECK(law.quantile(p) == expected);
  CHECK(near_abs(law.mean() + normal_quantile(.95) * std::sqrt(law.variance()), 62.22, 5e-3));
  CHECK(Law::poisson(42.3).quantile(.95) == 53);
}

TEST_CASE("resampling a history has an exact law: the convolution of its months") {
  // Quantiles from the exact convolution with numpy; 400 000 draws gave the same for three months.
  const Law month = Law::of_history({0, 0, 3, 0, 1, 0, 0, 2, 0, 0, 4, 0});
  const std::vector<double> p{.5, .8, .9, .95, .99};
  const std::map<int, std::vector<int>> table{
      {1, {0, 2, 3, 4, 4}}, {2, {1, 4, 4, 5, 7}}, {3, {2, 4, 6, 7, 9}}, {4, {3, 6, 7, 8, 11}}};
  for (const auto& row : table) {
    const auto& months = row.first;
    const auto& expected = row.second;
    const Law law = sum_of(month, months);
    for (std::size_t i = 0; i < p.size(); ++i) {
      CAPTURE(months);
      CAPTURE(p[i]);
      CHECK(law.quantile(p[i]) == expected[i]);
    }
  }
  const Law three = sum_of(month, 3);
  CHECK(near_abs(three.probability(0), .29629630, 5e-9));
  CHECK(near_rel(three.mean(), 2.5, 1e-12));
  CHECK(near_abs(three.variance(), 5.416667, 5e-7));
}

TEST_CASE("losses of discrete laws agree with a general-purpose inventory library") {
  // stockpyl (MIT), loss_functions.py: Poisson(15) at 18, geometric(.2) at 7, negative binomial r = 4, p = .2
  // at 14.
  const Law poisson = Law::poisson(15.0);
  CHECK(near_rel(poisson.shortfall(18), 0.5176095282584724, 1e-12));
  CHECK(near_rel(poisson.leftover(18), 3.5176095282584724, 1e-12));
  std::vector<double> geometric{0.0};
  for (double p = .2; p > 1e-20; p *= .8) geometric.push_back(p);
  CHECK(near_rel(Law(geometric).shortfall(7), 1.0485760, 1e-12));
  CHECK(near_rel(Law(geometric).leftover(7), 3.0485760, 1e-12));
  std::vector<double> negative_binomial{std::pow(.2, 4)};
  for (int k = 1; k < 400; ++k) negative_binomial.push_back(negative_binomial.back() * .8 * (k + 3) / k);
  CHECK(near_rel(Law(negative_binomial).shortfall(14), 4.447304632028364, 1e-10));
  CHECK(near_rel(Law(negative_binomial).leftover(14), 2.447304632028364, 1e-10));
}

TEST_CASE("a Poisson demand thinned, or added over months, stays Poisson") {
  // Identities of the Poisson law: thinning keeps mean * share, independent months add up.
  for (const double mean : {0.3, 2.0, 11.0}) {
    const Law month = Law::poisson(mean);
    for (const double months : {0.25, 1.0, 1.4, 3.0}) {
      const Law over = over_months(month, months);
      const Law expected = Law::poisson(mean * months);
      for (int k = 0; k <= expected.largest(); ++k)
        CHECK(near_abs(over.probability(k), expected.probability(k), 1e-13));
    }
  }
}

TEST_CASE("shortfall, leftover and mean belong together for every law and level") {
  CHECK(rc::check([] {
    auto weights = *rc::gen::container<std::vector<unsigned>>(8, rc::gen::inRange(0U, 100U));
    weights.push_back(1);
    const Law law(std::vector<double>(weights.begin(), weights.end()));
    const int level = *rc::gen::inRange(0, 12);
    RC_ASSERT(std::abs(law.leftover(level) - law.shortfall(level) - (level - law.mean())) < 1e-12);
    const double p = *rc::gen::inRange(1, 1000) / 1000.0;
    RC_ASSERT(law.at_most(law.quantile(p)) > p - 1e-9);
    RC_ASSERT(law.quantile(p) == 0 || law.at_most(law.quantile(p) - 1) < p);
  }));
}
