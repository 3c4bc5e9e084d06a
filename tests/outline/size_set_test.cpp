// SPDX-License-Identifier: MIT
// Sizes against the published distribution: the crowd has its means, spread and correlation, one size for one
// normal measure covers what the normal law says, and more sizes never cover less.
#include "outline/size_set.h"

#include <doctest/doctest.h>

#include <cmath>

#include "outline/design_fixture.h"
#include "outline/population.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::testing;
using outline::Adults;
using outline::Side;
using outline::SizeSet;

namespace {

SizeSet sizes_of(const std::string& id, int count) {
  return outline::size_set(shipped().design(id), shipped(), count, outline::usual_fit(), Side::right);
}

}  // namespace

TEST_CASE("the adults of the sizes are those of the survey") {
  constexpr std::size_t count = 20'000;
  const Adults adults({"hand_length", "wrist_girth", "hand_girth"}, count, 3);
  // NATICK/TR-15/007, public records: means and SD of women (even places) and men, and the correlation of
  // wrist with hand girth; four standard errors of 10 000 draws.
  for (const std::size_t sex : {0U, 1U}) {
    const outline::Survey& survey = sex == 0 ? outline::women_surveyed() : outline::men_surveyed();
    const double n = count / 2.0;
    double wrist = 0.0;
    double squares = 0.0;
    double together = 0.0;
    for (std::size_t i = sex; i < count; i += 2) {
      const double w = (adults.person(i)[1] - survey.mean_mm[outline::wrist]) / survey.sd_mm[outline::wrist];
      wrist += w;
      squares += w * w;
      together += w * (adults.person(i)[2] - survey.mean_mm[outline::girth]) / survey.sd_mm[outline::girth];
    }
    CHECK(near_abs(wrist / n, 0.0, 4.0 / std::sqrt(n)));
    CHECK(near_abs(squares / n, 1.0, 4.0 * std::sqrt(2.0 / n)));
    CHECK(near_abs(together / n, survey.correlation[outline::wrist][outline::girth], 0.04));
  }
}

TEST_CASE("one size of a one-measure design covers what the normal law says") {
  library::Design band = shipped().design("finger-gutter");
  band.measures = {"wrist_girth"};
  band.rules.clear();
  band.lets.clear();
  band.outline.vertices = {{"0 mm", "0 mm", "", {}},
                           {"wrist_girth", "0 mm", "", {}},
                           {"wrist_girth", "30 mm", "", {}},
                           {"0 mm", "30 mm", "", {}}};
  band.straps.clear();
  band.lines.clear();
  const SizeSet set = outline::size_set(band, shipped(), 1, outline::usual_fit(), Side::right);
  const double size_mm = set.sizes.at(0).outline.width.value();
  // Women 154.79 (SD 7.83), men 175.92 (SD 8.96), half of each; within 12 % as ratios either way.
  const auto below = [](double x, double mean, double sd) {
    return 0.5 * std::erfc((mean - x) / (sd * std::sqrt(2.0)));
  };
  double expected = 0.0;
  for (const auto& [mean, sd] : {std::pair{154.79, 7.83}, {175.92, 8.96}})
    expected += 0.5 * (below(size_mm * 1.12, mean, sd) - below(size_mm / 1.12, mean, sd));
  CHECK(near_abs(set.coverage.si(), expected, 0.02));  // 10 000 draws, and the grid of sizes
  CHECK(set.coverage.low_si() < set.coverage.si());
  CHECK(set.coverage.high_si() > set.coverage.si());
}

TEST_CASE(
    "more sizes cover more, up to what any number can, and 90 % takes the number that first reaches it") {
  for (const std::string id : {"volar-wrist", "hand-thumb", "finger-gutter", "elbow"}) {
    CAPTURE(id);
    const SizeSet set = sizes_of(id, 4);
    double before = 0.0;
    int needed = 0;
    for (std::size_t i = 0; i < set.by_count.size(); ++i) {
      CHECK(set.by_count[i].si() >= before);
      before = set.by_count[i].si();
      if (needed == 0 && before >= 0.9) needed = static_cast<int>(i) + 1;
    }
    CHECK(set.reach.si() >= before);
    CHECK(near_rel(set.coverage.si(), set.by_count[3].si(), 1e-12));
    if (needed > 0) CHECK(set.for_most.figure().si() == needed);
    CHECK(set.for_most.known() == (needed > 0));
    CHECK(set.coverage.basis() == Basis::memory);  // shares of creases and digits
  }
}

TEST_CASE("sizes ascend, keep the trade's rules, and their shares add up to the coverage") {
  for (const auto& [id, design] : shipped().designs) {
    const auto& of_id = id;
    CAPTURE(of_id);
    const SizeSet set = outline::size_set(design, shipped(), 4, outline::usual_fit(), Side::left);
    REQUIRE(set.sizes.size() == 4);
    CHECK(set.sizes.front().name == "S");
    CHECK(set.sizes.back().name == "XL");
    double shares = 0.0;
    for (std::size_t i = 0; i < set.sizes.size(); ++i) {
      shares += set.sizes[i].share.si();
      if (i > 0) CHECK(set.sizes[i].outline.area.si() > set.sizes[i - 1].outline.area.si());
      for (const outline::RuleCheck& check : set.sizes[i].outline.checks) CHECK_MESSAGE(check.kept, check.id);
    }
    CHECK(near_abs(shares, set.coverage.si(), 1e-9));
  }
}

TEST_CASE("a measure without a known distribution is refused by name") {
  library::Design odd = shipped().design("finger-gutter");
  odd.measures.push_back("toe_length");
  CHECK_THROWS_WITH_AS((void)outline::size_set(odd, shipped(), 3, outline::usual_fit(), Side::right),
                       doctest::Contains("toe_length"), Failure);
}
