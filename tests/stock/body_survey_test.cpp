// SPDX-License-Identifier: MIT
#include "stock/body_survey.h"

#include <doctest/doctest.h>

#include <cmath>

#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::stock;
using testing::near_abs;
using testing::near_rel;

TEST_CASE("drawn adults have the means, spreads and correlations of the survey") {
  // 2012 Anthropometric Survey of U.S. Army Personnel, public records. 20 000 draws: a mean is good to 0.7 %
  // of a standard deviation, a correlation to 0.007; three standard errors, and a little for values drawn in
  // at three deviations.
  constexpr int n = 20'000;
  for (const bool woman : {true, false}) {
    const outline::Survey& survey = woman ? outline::women_surveyed() : outline::men_surveyed();
    nesting::Random random(7);
    outline::SurveyRow sum{}, squares{};
    double products = 0.0;
    for (int i = 0; i < n; ++i) {
      const outline::SurveyRow person = draw_adult(random, woman);
      for (std::size_t k = 0; k < outline::surveyed_count; ++k) {
        const double z = (person[k] - survey.mean_mm[k]) / survey.sd_mm[k];
        sum[k] += z;
        squares[k] += z * z;
      }
      products += (person[outline::breadth] - survey.mean_mm[outline::breadth]) *
                  (person[outline::wrist] - survey.mean_mm[outline::wrist]) /
                  (survey.sd_mm[outline::breadth] * survey.sd_mm[outline::wrist]);
    }
    for (std::size_t k = 0; k < outline::surveyed_count; ++k) {
      CHECK(near_abs(sum[k] / n, 0.0, 0.022));
      CHECK(near_abs(squares[k] / n, 1.0, 0.045));
    }
    CHECK(near_abs(products / n, survey.correlation[outline::wrist][outline::breadth], 0.03));
  }
}

TEST_CASE("drawn adults are inside the published 5 % and 95 % as often as real ones") {
  // Of the survey's people only 77.0 % lie between the 5th and 95th percentile in hand length, hand breadth,
  // wrist and forearm girth at once (counted in the records, both sexes); women: percentiles 165-199, 72-85,
  // 142.25-168, 235-296 mm.
  nesting::Random random(11);
  constexpr int n = 20'000;
  int inside = 0;
  for (int i = 0; i < n; ++i) {
    const outline::SurveyRow p = draw_adult(random, true);
    const auto between = [&](outline::Surveyed t, double low, double high) {
      return p[t] >= low && p[t] <= high;
    };
    if (between(outline::hand, 165, 199) && between(outline::breadth, 72, 85) &&
        between(outline::wrist, 142.25, 168) && between(outline::forearm, 235, 296))
      ++inside;
  }
  // The real ones are rounded to millimetres and a little skew: 3 points.
  CHECK(near_abs(100.0 * inside / n, 77.0, 3.0));
}

TEST_CASE("children are of the size of their age, and forearm follows hand as it did in the survey") {
  // UM-HSRI-77-17 (1977): girls of 7.5 to 8.5 years have a mean hand length of 136.9 mm, SD 7.1; over all
  // ages radiale-stylion over hand length is 1.334 (0.091).
  nesting::Random random(5);
  double length = 0, ratio = 0;
  constexpr int n = 5000;
  for (int i = 0; i < n; ++i) {
    const outline::SurveyRow child = draw_child(random, true, 8.0);
    length += child[outline::hand] / n;
    ratio += child[outline::radius] / child[outline::hand] / n;
  }
  CHECK(near_abs(length, 136.9, 3.0 * 7.1 / std::sqrt(n)));
  CHECK(near_abs(ratio, 1.334, 0.091));
}

TEST_CASE("measures that no survey took follow the nearest one in proportion") {
  const library::Library library = library::load({});
  const Figure half = Figure::entered("women", Range::exactly(0.5), units::percent());
  outline::SurveyRow adult{};
  for (std::size_t k = 0; k < outline::surveyed_count; ++k)
    adult[k] = 0.5 * (outline::women_surveyed().mean_mm[k] + outline::men_surveyed().mean_mm[k]);
  const auto measures = measures_of(adult, {"hand_breadth", "crease_radial"}, library, {half});
  for (const auto& [id, figure] : measures)
    CHECK(near_rel(figure.si(), library.measure(id).usual.si(), 1e-12));
  for (double& value : adult) value *= 1.1;
  for (const auto& [id, figure] : measures_of(adult, {"hand_breadth", "crease_radial"}, library, {half}))
    CHECK(near_rel(figure.si(), 1.1 * library.measure(id).usual.si(), 1e-12));
}

TEST_CASE("the sizes behind a caseload are those of its people") {
  // UM-HSRI-77-17 (1977), hand length: girls of 7.5 to 8.5 years 136.9 mm, SD 7.1; of 3.5 to 4.5 years girls
  // 114.5, SD 7.5, boys 114.1, SD 7.0; of 11.5 to 12.5 years girls 162.8, SD 9.9, boys 162.4, SD 10.3. 5 %
  // and 95 % of a normal law lie 1.645 SD from its mean.
  const auto ages = [](double youngest_yr, double oldest_yr, double women) {
    const Unit& year = *find_unit(Dimension::duration, "yr");
    return People{Figure::entered("women", Range::exactly(women), units::percent()),
                  People::Ages{Figure::entered("youngest", Range::exactly(year.to_si(youngest_yr)), year),
                               Figure::entered("oldest", Range::exactly(year.to_si(oldest_yr)), year)}};
  };
  constexpr double printed_m = 0.05e-3;
  const Figure girls_of_8 = behind_sizes(ages(8.0, 8.0, 1.0)).back();
  CHECK(near_abs(girls_of_8.si(), 0.1369, printed_m));
  CHECK(near_abs(girls_of_8.low_si(), 0.1252, printed_m));
  CHECK(near_abs(girls_of_8.high_si(), 0.1486, printed_m));
  const Figure of_4_to_12 = behind_sizes(ages(4.0, 12.0, 0.5)).back();
  CHECK(near_abs(of_4_to_12.low_si(), 0.1022, printed_m));
  CHECK(near_abs(of_4_to_12.high_si(), 0.1793, printed_m));
}
