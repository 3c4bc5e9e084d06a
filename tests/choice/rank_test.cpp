// SPDX-License-Identifier: MIT
#include "choice/rank.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <array>
#include <boost/math/distributions/beta.hpp>
#include <numeric>

#include "support/near.h"

using namespace warmsheet::choice;
using warmsheet::library::Grade;
using warmsheet::nesting::Random;
using warmsheet::testing::near_abs;
using warmsheet::testing::near_rel;

namespace {

/// Weights spread evenly over all that sum to 1: gaps between sorted uniforms (Tervonen and Lahdelma 2007,
/// EJOR 178:500).
void draw_even_weights(Draws& draws, std::size_t draw, Random& random) {
  std::vector<double> cuts{0.0, 1.0};
  for (std::size_t k = 1; k < draws.criteria(); ++k) cuts.push_back(random.unit());
  std::sort(cuts.begin(), cuts.end());
  for (std::size_t k = 0; k < draws.criteria(); ++k) draws.weight(draw, k) = cuts[k + 1] - cuts[k];
}

// Two preventions of blood clots after injury, judged by proximal and distal clots and major bleeding.
// Measurements: beta distributions of the trial's counts; value scales linear from 0.25 to 0, 0.40 to 0.15
// and 0.10 to 0. Data read in the example problem of a public decision-analysis service, results in the
// reference output of the R package "smaa" 0.2 (van Valkenhoef), its example with 10 000 draws. Trial: Lynd
// and O'Brien 2004, from memory.
struct Clots {
  std::array<std::array<std::array<double, 2>, 3>, 2> beta{
      {{{{20, 116}, {40, 96}, {1, 135}}}, {{{8, 121}, {32, 97}, {5, 124}}}}};
  std::array<double, 3> worst{0.25, 0.40, 0.10};
  std::array<double, 3> best{0.0, 0.15, 0.0};

  void fill(Draws& draws, Random& random) const {
    for (std::size_t d = 0; d < draws.count(); ++d)
      for (std::size_t i = 0; i < 2; ++i)
        for (std::size_t k = 0; k < 3; ++k) {
          const boost::math::beta_distribution<> risk(beta[i][k][0], beta[i][k][1]);
          draws.value(d, i, k) = (worst[k] - quantile_of(risk, random.unit())) / (worst[k] - best[k]);
        }
  }
  static double quantile_of(const boost::math::beta_distribution<>& risk, double chance) {
    return boost::math::quantile(risk, chance);
  }
};

// 10 000 draws on their side and 5 000 on ours: three standard errors of the difference of two shares near a
// third.
constexpr double share_tolerance = 0.025;

}  // namespace

TEST_CASE("rank acceptabilities of the published clot example, weights unknown") {
  Random random(11);
  Draws draws(2, 3, 5000);
  Clots().fill(draws, random);
  for (std::size_t d = 0; d < draws.count(); ++d) draw_even_weights(draws, d, random);
  const Acceptability seen = acceptability(draws);
  CHECK(near_abs(seen.rank_share[0][0], 0.3504, share_tolerance));
  CHECK(near_abs(seen.rank_share[1][0], 0.6496, share_tolerance));
  CHECK(near_abs(seen.rank_share[0][1], 0.6496, share_tolerance));
}

TEST_CASE("the same example with weights 0.5, 0.2, 0.3") {
  Random random(12);
  Draws draws(2, 3, 5000);
  Clots().fill(draws, random);
  const std::array<double, 3> weights{0.5, 0.2, 0.3};
  for (std::size_t d = 0; d < draws.count(); ++d)
    for (std::size_t k = 0; k < 3; ++k) draws.weight(d, k) = weights[k];
  const Acceptability seen = acceptability(draws);
  CHECK(near_abs(seen.rank_share[0][0], 0.1279, share_tolerance));
  CHECK(near_abs(seen.rank_share[1][0], 0.8721, share_tolerance));
}

// Three items in two criteria, (1,0), (0,1) and a compromise (c,c), with all weights equally likely: the
// compromise is first where both weights stay below c, a share 2c - 1; it can never be last. Lahdelma,
// Hokkanen and Salminen's own argument for the method; the arithmetic is exact.
TEST_CASE("a compromise is first just as often as the weights allow") {
  for (const double c : {0.55, 0.7, 0.9}) {
    CAPTURE(c);
    Random random(3);
    Draws draws(3, 2, 20000);
    for (std::size_t d = 0; d < draws.count(); ++d) {
      draws.value(d, 0, 0) = 1.0;
      draws.value(d, 1, 1) = 1.0;
      draws.value(d, 2, 0) = draws.value(d, 2, 1) = c;
      draw_even_weights(draws, d, random);
    }
    const Acceptability seen = acceptability(draws);
    CHECK(near_abs(seen.rank_share[2][0], 2.0 * c - 1.0, 0.012));
    CHECK(near_abs(seen.rank_share[0][0], 1.0 - c, 0.012));
    CHECK(seen.rank_share[2][2] == 0.0);
  }
}

// Weighted sum: 21.50, 22.00, 22.00 with weights 0.20, 0.15, 0.40, 0.25. Triantaphyllou 2000, Multi-Criteria
// Decision Making Methods, as quoted in an encyclopaedia's article on the weighted sum model; from memory.
TEST_CASE("the weighted sums of the textbook, and its tie shared evenly") {
  const std::array<double, 4> weights{0.20, 0.15, 0.40, 0.25};
  const std::array<std::array<double, 4>, 3> table{{{25, 20, 15, 30}, {10, 30, 20, 30}, {30, 10, 30, 10}}};
  const std::array<double, 3> sums{21.5, 22.0, 22.0};
  Draws draws(3, 4, 1);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK(near_abs(weighted_score(weights, table[i]), sums[i], 1e-12));
    for (std::size_t k = 0; k < 4; ++k) draws.value(0, i, k) = table[i][k];
  }
  for (std::size_t k = 0; k < 4; ++k) draws.weight(0, k) = weights[k];
  draws.value(0, 2, 0) = 30.0;
  const Acceptability seen = acceptability(draws);
  CHECK(seen.rank_share[0][2] == 1.0);
  CHECK(near_abs(seen.rank_share[1][0] + seen.rank_share[2][0], 1.0, 1e-12));
}

// Triantaphyllou and Sanchez 1997, Decision Sciences 28:151, example of the weighted sum model: weights
// 0.3277, 0.3058, 0.2876, 0.0790; first two alternatives (0.3088, 0.2897, 0.3867, 0.1922) and (0.2163,
// 0.3458, 0.1755, 0.6288) with the preferences 0.3162 and 0.2768. From memory; the preferences check the
// memory, the flip is the paper's theorem.
TEST_CASE("the weight that makes the first two equal, by the published theorem") {
  const std::array<double, 4> weights{0.3277, 0.3058, 0.2876, 0.0790};
  const std::array<double, 4> first{0.3088, 0.2897, 0.3867, 0.1922};
  const std::array<double, 4> second{0.2163, 0.3458, 0.1755, 0.6288};
  const double p1 = std::inner_product(weights.begin(), weights.end(), first.begin(), 0.0);
  const double p2 = std::inner_product(weights.begin(), weights.end(), second.begin(), 0.0);
  CHECK(near_abs(p1, 0.3162, 1e-4));
  CHECK(near_abs(p2, 0.2768, 1e-4));
  for (std::size_t k = 0; k < 4; ++k) {
    CAPTURE(k);
    const auto flip = flipping_weight(weights, first, second, k);
    // The theorem: the weight falls by (P1 - P2)/(a1k - a2k).
    const double expected = weights[k] - (p1 - p2) / (first[k] - second[k]);
    CHECK(flip.has_value() == (expected >= 0.0));
    if (!flip) continue;
    CHECK(near_rel(*flip, expected, 1e-9));
    auto changed = weights;
    changed[k] = *flip;
    CHECK(near_abs(weighted_score(changed, first), weighted_score(changed, second), 1e-12));
  }
}

TEST_CASE("a criterion in which the two are alike can flip nothing") {
  const std::array<double, 2> weights{1.0, 1.0};
  CHECK_FALSE(flipping_weight(weights, std::array{0.7, 0.5}, std::array{0.2, 0.5}, 1));
  CHECK_FALSE(flipping_weight(weights, std::array{0.7, 0.5}, std::array{0.2, 0.4},
                              1));  // would need a negative weight
}

// Uniform order statistics: the mean of the k-th of n is k/(n + 1). Any text on order statistics.
TEST_CASE("drawn grade scales keep the order, end at 0 and 1, and are evenly spaced only on average") {
  Random random(5);
  std::vector<double> sum(5, 0.0);
  constexpr int draws = 20000;
  for (int d = 0; d < draws; ++d) {
    const GradeScale scale = drawn_grade_scale(random);
    REQUIRE(std::is_sorted(scale.begin(), scale.end()));
    REQUIRE(scale.front() == 0.0);
    REQUIRE(scale.back() == 1.0);
    for (std::size_t g = 0; g < 5; ++g) sum[g] += scale[g];
  }
  // Standard deviation of one position is at most 0.22, of the mean of 20 000 below 0.002.
  for (std::size_t g = 0; g < 5; ++g) CHECK(near_abs(sum[g] / draws, mean_grade_scale()[g], 0.006));
}

TEST_CASE("a grade that meets what is asked is worth all of it, whatever the scale") {
  Random random(6);
  const GradeScale scale = drawn_grade_scale(random);
  CHECK(grade_worth(scale, Grade::high, Grade::moderate, false) == 1.0);
  CHECK(grade_worth(scale, Grade::none, Grade::moderate, false) == 0.0);
  CHECK(grade_worth(scale, Grade::low, Grade::moderate, true) == 1.0);
  CHECK(grade_worth(scale, Grade::very_high, Grade::moderate, true) == 0.0);
  const double between = grade_worth(scale, Grade::low, Grade::moderate, false);
  CHECK(between > 0.0);
  CHECK(between < 1.0);
}

TEST_CASE("measured worth is linear between poor and good, whichever is larger") {
  CHECK(near_abs(measured_worth(5.0, 10.0, 0.0), 0.5, 1e-12));
  CHECK(near_abs(measured_worth(0.05, 0.0, 0.2), 0.25, 1e-12));
  CHECK(measured_worth(11.0, 10.0, 0.0) == 0.0);
  CHECK(measured_worth(-1.0, 10.0, 0.0) == 1.0);
}

TEST_CASE("rank shares of every item and of every rank sum to one") {
  CHECK(rc::check([] {
    const auto items = *rc::gen::inRange<std::size_t>(1, 7);
    const auto criteria = *rc::gen::inRange<std::size_t>(1, 5);
    Random random(*rc::gen::arbitrary<std::uint64_t>());
    Draws draws(items, criteria, 20);
    for (std::size_t d = 0; d < draws.count(); ++d) {
      for (std::size_t k = 0; k < criteria; ++k) draws.weight(d, k) = random.unit();
      for (std::size_t i = 0; i < items; ++i)
        for (std::size_t k = 0; k < criteria; ++k)
          draws.value(d, i, k) = static_cast<double>(random.below(3)) / 2.0;
    }
    const Acceptability seen = acceptability(draws);
    for (std::size_t i = 0; i < items; ++i) {
      double of_item = 0.0;
      double of_rank = 0.0;
      for (std::size_t r = 0; r < items; ++r) {
        of_item += seen.rank_share[i][r];
        of_rank += seen.rank_share[r][i];
      }
      RC_ASSERT(std::abs(of_item - 1.0) < 1e-9);
      RC_ASSERT(std::abs(of_rank - 1.0) < 1e-9);
      RC_ASSERT(seen.score[i].low <= seen.score[i].value);
      RC_ASSERT(seen.score[i].value <= seen.score[i].high);
    }
  }));
}
