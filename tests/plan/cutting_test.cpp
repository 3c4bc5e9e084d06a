// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "plan/cutting.h"
#include "support/near.h"

using namespace warmsheet;
using testing::near_abs;
using testing::near_rel;

namespace {

Figure millimetres(const char* name, double value) {
  return Figure::entered(name, Range::exactly(value * 1e-3), units::millimetre());
}

plan::SheetSize sheet(double length_mm, double width_mm) {
  return {"sheet", millimetres("width", width_mm), millimetres("length", length_mm), std::nullopt};
}

}  // namespace

TEST_SUITE("plan") {
  TEST_CASE("sheets by area: wanted area over the part of a sheet that becomes orthosis, with its range") {
    const Figure area = Figure::entered("area", Range::exactly(0.0450), units::square_centimetre());
    const Figure share =
        Figure::stated("share", {0.5, 0.4, 0.75}, units::percent(), {.basis = Basis::memory});
    const plan::AreaEstimate estimate = plan::estimate_by_area(area, 6, sheet(600, 450), share);
    // 6 x 450 cm2 of a 2700 cm2 sheet: one sheet if nothing were wasted.
    CHECK(near_rel(estimate.sheet_share.si(), 2.0, 1e-12));
    CHECK(near_rel(estimate.sheet_share.low_si(), 1.0 / 0.75, 1e-12));
    CHECK(near_rel(estimate.sheet_share.high_si(), 2.5, 1e-12));
    CHECK(estimate.sheets_used.si() == 2.0);
    CHECK(estimate.sheets_used.low_si() == 2.0);
    CHECK(estimate.sheets_used.high_si() == 3.0);
    CHECK(estimate.bound.si() == 1.0);
    CHECK(estimate.sheets_used.basis() == Basis::memory);
    CHECK(estimate.bound.basis() == Basis::entered);
  }

  TEST_CASE(
      "sheets by area are counted whole, so they are never below the bound, and follow the area's range") {
    const Figure share =
        Figure::stated("share", {0.6, 0.45, 0.75}, units::percent(), {.basis = Basis::memory});
    const Figure area = Figure::entered("area", {0.020, 0.010, 0.090}, units::square_centimetre());
    for (const int copies : {1, 3, 8, 13, 27, 40}) {
      CAPTURE(copies);
      const plan::AreaEstimate estimate = plan::estimate_by_area(area, copies, sheet(600, 450), share);
      CHECK(estimate.sheets_used.si() >= estimate.bound.si());
      CHECK(estimate.sheets_used.low_si() >= estimate.bound.low_si());
      CHECK(estimate.sheets_used.high_si() >= estimate.bound.high_si());
      CHECK(estimate.sheets_used.si() >= estimate.sheet_share.si());
      // 0.27 m2 of sheet.
      CHECK(near_rel(estimate.sheet_share.high_si(), copies * 0.090 / (0.27 * 0.45), 1e-12));
      CHECK(estimate.bound.si() == (copies * 20 + 269) / 270);
    }
  }

  TEST_CASE("a rest is kept by the library's habits: both sides and the area") {
    const library::CuttingHabits habits = library::load({}).cutting;
    const outline::Outline outline =
        outline::from_polygon("plate", plan::rectangle(300, 440), Length{1e-6}, {.basis = Basis::entered});
    const plan::Cutting cutting = plan::cut({.items = {{outline, 1}},
                                             .sheets = {sheet(600, 450)},
                                             .offcuts = {},
                                             .spacing = millimetres("spacing", 2),
                                             .margin = millimetres("margin", 2),
                                             .rotations = {.free = false, .angles_deg = {0.0}},
                                             .effort = {},
                                             .keep = plan::KeepLimits::usual(habits)});
    const double side_mm = habits.keep_side.value();
    const double area_mm2 = 100.0 * habits.keep_area.value();
    CHECK(cutting.worth_keeping({0, 2.0 * area_mm2 / side_mm, side_mm}));
    CHECK_FALSE(cutting.worth_keeping({0, 2.0 * area_mm2 / side_mm, 0.99 * side_mm}));
    CHECK_FALSE(cutting.worth_keeping({0, 0.99 * side_mm, 2.0 * area_mm2 / side_mm}));
    CHECK_FALSE(cutting.worth_keeping({0, 0.99 * area_mm2 / side_mm, side_mm}));
    CHECK(habits.keep_side.basis() == Basis::practice);
  }

  TEST_CASE("sheets priced in two currencies are taken as unpriced ones are: the fewest, then the smallest") {
    const outline::Outline outline =
        outline::from_polygon("plate", plan::rectangle(100, 80), Length{1e-6}, {.basis = Basis::entered});
    const auto priced = [](double length_mm, double price, const char* currency) {
      plan::SheetSize size = sheet(length_mm, 450);
      size.price = Figure::entered("price", Range::exactly(price), *find_unit(Dimension::money, currency));
      return size;
    };
    const auto taken_of = [&](const char* other) {
      const plan::Cutting cutting = plan::cut({.items = {{outline, 1}},
                                               .sheets = {priced(600, 40, "cr"), priced(900, 34.5, other)},
                                               .offcuts = {},
                                               .spacing = millimetres("spacing", 2),
                                               .margin = millimetres("margin", 2),
                                               .rotations = {.free = false, .angles_deg = {0.0}},
                                               .effort = {},
                                               .keep = {millimetres("side", 75), outline.area}});
      return cutting.layout.sheets.at(0).stock;
    };
    CHECK(taken_of("cr") == 1);   // the cheaper one
    CHECK(taken_of("EUR") == 0);  // the smaller one
  }

  TEST_CASE("rotations are read as words or as angles with a unit") {
    CHECK(plan::parse_rotations("free").free);
    CHECK(plan::parse_rotations("none").angles_deg == std::vector<double>{0.0});
    CHECK(plan::parse_rotations("180").angles_deg == std::vector<double>{0.0, 180.0});
    CHECK(plan::parse_rotations("90").angles_deg.size() == 4);
    const auto list = plan::parse_rotations("0 deg, 45 deg").angles_deg;
    REQUIRE(list.size() == 2);
    CHECK(near_abs(list[1], 45.0, 1e-9));
    CHECK_THROWS_AS(plan::parse_rotations("45"), Failure);
    CHECK_THROWS_AS(plan::parse_rotations(""), Failure);
  }

  TEST_CASE("a kept offcut is used first and is not counted as a sheet") {
    const outline::Outline outline =
        outline::from_polygon("plate", plan::rectangle(100, 80), Length{1e-6}, {.basis = Basis::entered});
    const plan::Offcut offcut{"rest", plan::rectangle(120, 100),
                              Figure::entered("rest", Range::exactly(0.012), units::square_centimetre())};
    const plan::Cutting cutting = plan::cut({.items = {{outline, 1}},
                                             .sheets = {sheet(600, 450)},
                                             .offcuts = {offcut},
                                             .spacing = millimetres("spacing", 2),
                                             .margin = millimetres("margin", 2),
                                             .rotations = {.free = false, .angles_deg = {0.0}},
                                             .effort = {},
                                             .keep = {millimetres("side", 75), outline.area}});
    CHECK(cutting.complete());
    CHECK(cutting.sheets_used.si() == 0.0);
    CHECK_FALSE(cutting.used_length.known());
    CHECK(near_rel(cutting.utilisation.si(), 8000.0 / 12000.0, 1e-9));
  }
}
