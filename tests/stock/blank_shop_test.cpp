// SPDX-License-Identifier: MIT
#include "stock/blank_shop.h"

#include <doctest/doctest.h>

#include <numeric>
#include <vector>

#include "stock/usage.h"
#include "support.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::stock;
using testing::near_abs;

namespace {

KindPieces rectangles(const std::vector<Rectangle>& sizes) {
  KindPieces kind{{}, Figure::entered("area", Range::exactly(0.03), units::square_centimetre())};
  for (const Rectangle& r : sizes) {
    const outline::Polygon shape = testing::rectangle_shape(r.length_mm, r.width_mm);
    kind.sizes.push_back({.share = 1.0 / static_cast<double>(sizes.size()),
                          .shape = shape,
                          .area_mm2 = shape.area_mm2(),
                          .edge_mm = shape.perimeter_mm(),
                          .boxes = turned_boxes(shape),
                          .straps = {}});
  }
  return kind;
}

int on(const stock::Pattern& pattern) {
  return std::accumulate(pattern.begin(), pattern.end(), 0);
}

}  // namespace

TEST_CASE("nine blanks of 200 x 150 mm come off a 600 x 450 mm sheet, as counted by hand") {
  // 3 x 3 fill the sheet whole, so no cutting gives more. With a kerf of 3 mm nine no longer fit (3 x 200 + 2
  // x 3 > 600).
  const std::vector<KindPieces> kinds{rectangles({{200, 150}})};
  const BlankShop plain({600, 450}, 0.0, kinds, {9.0});
  REQUIRE(plain.blanks().size() == 1);
  CHECK(on(plain.pattern_for(0, {0})) == 9);
  CHECK(near_abs(plain.bound_per_month(), 1.0, 1e-9));
  const BlankShop kerf({600, 450}, 3.0, kinds, {9.0});
  CHECK(on(kerf.pattern_for(0, {0})) < 9);
  CHECK(on(kerf.pattern_for(0, {0})) >= 4);  // two by two upright, by hand
}

TEST_CASE("neighbouring sizes share a blank that holds both, and a larger one stands in for a smaller") {
  const std::vector<KindPieces> kinds{rectangles({{100, 60}, {112, 66}, {150, 90}})};
  const BlankShop shop({600, 450}, 3.0, kinds, {6.0});
  REQUIRE(shop.blanks().size() == 2);
  CHECK(shop.blanks()[0].size.length_mm == 115.0);
  CHECK(shop.blanks()[0].size.width_mm == 70.0);
  CHECK(near_abs(shop.blanks()[0].per_month, 4.0, 1e-9));
  CHECK(shop.holding(0, 0) == std::vector<std::size_t>{0, 1});
  CHECK(shop.holding(0, 2) == std::vector<std::size_t>{1});
}

TEST_CASE("the mixed plan needs no more sheets than each blank cut alone") {
  const std::vector<KindPieces> kinds{rectangles({{280, 240}}), rectangles({{150, 100}})};
  const BlankShop shop({600, 450}, 0.0, kinds, {4.0, 6.0});
  double alone = 0.0;
  for (std::size_t b = 0; b < 2; ++b) {
    stock::Pattern only;
    for (const PatternUse& use : shop.patterns())
      if (use.sheets == 0.0 && use.pattern[b] == on(use.pattern)) only = use.pattern;
    REQUIRE(on(only) > 0);
    alone += shop.blanks()[b].per_month / on(only);
  }
  CHECK(shop.bound_per_month() <= alone + 1e-9);
  CHECK(shop.pattern_for(0, {0, 0})[0] > 0);
  // With the box full of the other one, the pattern with most of the one that is wanted is cut.
  CHECK(shop.pattern_for(0, {0, 100})[0] >= shop.pattern_for(0, {0, 0})[0]);
}

TEST_CASE(
    "blanks that lie longer than the sheet keeps are thrown away, so that a slow kind takes more sheets") {
  // Nine blanks come off a sheet (above). One orthosis every five months, 40 months: nine of them last, where
  // nothing grows old; where a sheet keeps three months every orthosis finds an empty box; where it keeps
  // six, each sheet serves two.
  const std::vector<KindPieces> kinds{rectangles({{200, 150}})};
  std::vector<Arrival> arrivals;
  for (int i = 0; i < 8; ++i) arrivals.push_back({5.0 * i + 0.5, 0, 0});
  struct Row {
    double life_months;
    int sheets;
  };
  for (const Row& row : {Row{1e9, 1}, Row{3.0, 8}, Row{6.0, 4}}) {
    CAPTURE(row.life_months);
    const CuttingRules rules{
        .method = Method::blanks, .spacing_mm = 0.0, .margin_mm = 0.0, .most_age_months = row.life_months};
    const CuttingBench bench({600, 450}, rules, kinds, {0.2});
    SpotCache cache;
    const Usage usage = bench.cut(arrivals, 40, {}, {}, cache);
    CHECK(usage.taken.size() == static_cast<std::size_t>(row.sheets));
  }
}

TEST_CASE("a kind whose blank is larger than the sheet is told, not planned") {
  const std::vector<KindPieces> kinds{rectangles({{610, 200}})};
  const BlankShop shop({600, 450}, 0.0, kinds, {1.0});
  CHECK(shop.misfits() == std::vector<std::size_t>{0});
  CHECK(shop.patterns().empty());
}
