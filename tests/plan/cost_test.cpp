// SPDX-License-Identifier: MIT
// Prices are invented for the test; the arithmetic is checked by hand.
#include <doctest/doctest.h>

#include "plan/cost.h"
#include "support/near.h"

using namespace warmsheet;
using testing::near_rel;

namespace {

const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

Figure entered(const char* name, double value, const char* unit, Dimension dimension) {
  const Unit& written = *find_unit(dimension, unit);
  return Figure::entered(name, Range::exactly(written.to_si(value)), written);
}

/// A 600 x 450 mm sheet at 40 cr.
library::StockItem stock() {
  return {.id = "x",
          .sheet = "s",
          .thickness = entered("t", 3.2, "mm", Dimension::length),
          .perforation = "solid",
          .width = entered("w", 450, "mm", Dimension::length),
          .length = entered("l", 600, "mm", Dimension::length),
          .price = Figure::stated("price", Range::exactly(40.0), *find_unit(Dimension::money, "cr"),
                                  {.basis = Basis::demo}),
          .pack = entered("pack", 1, "1", Dimension::ratio)};
}

outline::Outline square(double side_mm) {
  return outline::from_polygon("square", plan::rectangle(side_mm, side_mm), Length{1e-6},
                               {.basis = Basis::entered});
}

plan::Cutting cutting_of(const outline::Outline& outline, const library::StockItem& item, int copies) {
  const Figure none = entered("gap", 0, "mm", Dimension::length);
  return plan::cut({.items = {{outline, copies}},
                    .sheets = {{item.key(), item.width, item.length, item.price}},
                    .offcuts = {},
                    .spacing = none,
                    .margin = none,
                    .rotations = {.free = false, .angles_deg = {0.0}},
                    .effort = {}});
}

}  // namespace

TEST_SUITE("plan") {
  TEST_CASE("a sheet is charged by its used length if the rest is kept, whole if not") {
    const library::StockItem item = stock();
    const outline::Outline outline = square(150);
    const plan::Cutting cutting =
        cutting_of(outline, item, 3);  // three of 150 mm side by side: 150 of 600 mm used
    REQUIRE(near_rel(cutting.used_length.figure().value(), 150.0, 1e-6));
    const plan::Cost cost = plan::cost_of({.stock = &item,
                                           .cutting = &cutting,
                                           .estimate = nullptr,
                                           .outline = &outline,
                                           .copies = 3,
                                           .area = outline.area,
                                           .edging = nullptr,
                                           .lining = nullptr,
                                           .library = &shipped()});
    CHECK(near_rel(cost.total.si(), 40.0 * 150.0 / 600.0, 1e-6));
    CHECK(near_rel(cost.total_no_offcuts.si(), 40.0, 1e-12));
    CHECK(cost.total.basis() == Basis::demo);
  }

  TEST_CASE("edging follows the cut edge, lining the area, both times copies") {
    const library::StockItem item = stock();
    const outline::Outline outline = square(200);
    const plan::Cutting cutting = cutting_of(outline, item, 2);
    const library::Fixing edging{
        .id = "e",
        .name = "edging",
        .kind = "edging",
        .width = Finding::absent("none"),
        .price = Figure::stated("p", Range::exactly(2.0), *find_unit(Dimension::money, "cr"),
                                {.basis = Basis::demo}),
        .price_per = "m"};
    const library::Fixing lining{
        .id = "l",
        .name = "lining",
        .kind = "lining",
        .width = Finding::absent("none"),
        .price = Figure::stated("p", Range::exactly(50.0), *find_unit(Dimension::money, "cr"),
                                {.basis = Basis::demo}),
        .price_per = "m2"};
    const plan::Cost cost = plan::cost_of({.stock = &item,
                                           .cutting = &cutting,
                                           .estimate = nullptr,
                                           .outline = &outline,
                                           .copies = 2,
                                           .area = outline.area,
                                           .edging = &edging,
                                           .lining = &lining,
                                           .library = &shipped()});
    REQUIRE(cost.lines.size() == 3);
    CHECK(near_rel(cost.lines[1].cost.si(), 2 * 0.8 * 2.0, 1e-6));
    CHECK(near_rel(cost.lines[2].cost.si(), 2 * 0.04 * 50.0, 1e-6));
  }

  TEST_CASE("prices in two currencies are refused") {
    const library::StockItem item = stock();
    const outline::Outline outline = square(100);
    const plan::Cutting cutting = cutting_of(outline, item, 1);
    const library::Fixing edging{
        .id = "e",
        .name = "edging",
        .kind = "edging",
        .width = Finding::absent("none"),
        .price = Figure::entered("p", Range::exactly(2.0), *find_unit(Dimension::money, "EUR")),
        .price_per = "m"};
    CHECK_THROWS_WITH_AS(plan::cost_of({.stock = &item,
                                        .cutting = &cutting,
                                        .estimate = nullptr,
                                        .outline = &outline,
                                        .copies = 1,
                                        .area = outline.area,
                                        .edging = &edging,
                                        .lining = nullptr,
                                        .library = &shipped()}),
                         doctest::Contains("priced in cr, edging in EUR"), Failure);
  }
}
