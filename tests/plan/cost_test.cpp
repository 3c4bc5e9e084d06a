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
                    .effort = {},
                    .keep = plan::KeepLimits::usual(shipped().cutting)});
}

/// Without edging and lining.
plan::Cost plain_cost(const library::StockItem& item, const plan::Cutting& cutting,
                      const outline::Outline& outline, int copies, const library::Library& library) {
  return plan::cost_of({.stock = &item,
                        .cutting = &cutting,
                        .estimate = nullptr,
                        .outline = &outline,
                        .copies = copies,
                        .area = outline.area,
                        .edging = nullptr,
                        .lining = nullptr,
                        .library = &library});
}

}  // namespace

TEST_SUITE("plan") {
  TEST_CASE("a sheet is charged by its used length if the rest is kept, whole if not") {
    const library::StockItem item = stock();
    const outline::Outline outline = square(150);
    const plan::Cutting cutting =
        cutting_of(outline, item, 3);  // three of 150 mm side by side: 150 of 600 mm used
    REQUIRE(near_rel(cutting.used_length.figure().value(), 150.0, 1e-6));
    const plan::Cost cost = plain_cost(item, cutting, outline, 3, shipped());
    CHECK(near_rel(cost.total.figure().si(), 40.0 * 150.0 / 600.0, 1e-6));
    CHECK(near_rel(cost.total_no_offcuts.figure().si(), 40.0, 1e-12));
    CHECK(cost.total.figure().basis() == Basis::demo);
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

  TEST_CASE("straps are charged by their length, each at its own price, times copies") {
    const library::StockItem item = stock();
    outline::Outline outline = square(150);
    const auto strap = [](const char* name, const std::string& fixing, double mm) {
      return outline::StrapPlace{.name = name,
                                 .fixing = fixing,
                                 .y_mm = 0.0,
                                 .length = entered("length", mm, "mm", Dimension::length)};
    };
    library::Library library = shipped();
    const auto price = [&](const char* id, double per_metre) {
      library.fixings.at(id).price = Figure::stated(
          "p", Range::exactly(per_metre), *find_unit(Dimension::money, "cr"), {.basis = Basis::demo});
    };
    const std::string wide = "strap-50";
    const std::string other = "strap-25";
    price(wide.c_str(), 4.5);
    price(other.c_str(), 2.5);
    outline.straps = {strap("forearm", wide, 188), strap("hand", other, 200)};
    const plan::Cutting cutting = cutting_of(outline, item, 2);
    const plan::Cost cost = plain_cost(item, cutting, outline, 2, library);
    REQUIRE(cost.lines.size() == 3);
    CHECK(near_rel(cost.lines[1].cost.si(), 2 * 0.188 * 4.5, 1e-9));
    CHECK(near_rel(cost.lines[2].cost.si(), 2 * 0.2 * 2.5, 1e-9));
    CHECK(
        near_rel(cost.total.figure().si(), cost.lines[0].cost.si() + 2 * 0.188 * 4.5 + 2 * 0.2 * 2.5, 1e-9));
    CHECK(near_rel(cost.total_no_offcuts.figure().si(), 40.0 + 2 * 0.188 * 4.5 + 2 * 0.2 * 2.5, 1e-9));
  }

  TEST_CASE(
      "the range of a cost is that of the sheet share times that of the price, and whole sheets are rounded "
      "up") {
    library::StockItem item = stock();
    item.price = Figure::stated("price", {40.0, 36.0, 50.0}, *find_unit(Dimension::money, "cr"),
                                {.basis = Basis::demo});
    const Figure area = entered("area", 0.0675, "m2", Dimension::area);
    const Figure usual = Figure::stated("u", {0.5, 0.25, 0.75}, units::one(), {.basis = Basis::memory});
    // 0.0675 of 0.27 m2 is a quarter: half a sheet at 50 %, a third at 75 %, a whole one at 25 %.
    const plan::AreaEstimate estimate =
        plan::estimate_by_area(area, 1, {item.key(), item.width, item.length, item.price}, usual);
    const plan::Cost cost = plan::cost_of({.stock = &item,
                                           .cutting = nullptr,
                                           .estimate = &estimate,
                                           .outline = nullptr,
                                           .copies = 1,
                                           .area = area,
                                           .edging = nullptr,
                                           .lining = nullptr,
                                           .library = &shipped()});
    CHECK(near_rel(cost.total.figure().si(), 40.0 / 2.0, 1e-9));
    CHECK(near_rel(cost.total.figure().low_si(), 36.0 / 3.0, 1e-9));
    CHECK(near_rel(cost.total.figure().high_si(), 50.0, 1e-9));
    CHECK(near_rel(cost.total_no_offcuts.figure().si(), 40.0, 1e-9));
    CHECK(near_rel(cost.total_no_offcuts.figure().low_si(), 36.0, 1e-9));
    CHECK(near_rel(cost.total_no_offcuts.figure().high_si(), 50.0, 1e-9));
  }

  TEST_CASE("prices in two currencies keep their lines, but nobody adds them up") {
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
    const plan::Cost cost = plan::cost_of({.stock = &item,
                                           .cutting = &cutting,
                                           .estimate = nullptr,
                                           .outline = &outline,
                                           .copies = 1,
                                           .area = outline.area,
                                           .edging = &edging,
                                           .lining = nullptr,
                                           .library = &shipped()});
    REQUIRE(cost.lines.size() == 2);
    CHECK(near_rel(cost.lines[1].cost.value(), 0.4 * 2.0, 1e-6));
    CHECK(cost.lines[1].cost.unit().id == "EUR");
    for (const NamedFinding& result : cost.results()) {
      REQUIRE_FALSE(result.finding.known());
      CHECK(result.finding.reason() ==
            "prices are in EUR and cr; state all in one currency in your own library folder");
    }
  }

  TEST_CASE("what is sold by the piece is one a strap place and one an orthosis, whatever its length") {
    const library::StockItem item = stock();
    outline::Outline outline = square(150);
    library::Library library = shipped();
    for (const char* id : {"strap-50", "edging-tape", "lining-thin"}) {
      library::Fixing& fixing = library.fixings.at(id);
      fixing.price_per = "piece";
      fixing.price = Figure::entered("p", Range::exactly(2.0), *find_unit(Dimension::money, "cr"));
    }
    for (const char* name : {"forearm", "wrist"})
      outline.straps.push_back({.name = name,
                                .fixing = "strap-50",
                                .y_mm = 0.0,
                                .length = entered("length", 188, "mm", Dimension::length)});
    const plan::Cutting cutting = cutting_of(outline, item, 3);
    const plan::Cost cost = plan::cost_of({.stock = &item,
                                           .cutting = &cutting,
                                           .estimate = nullptr,
                                           .outline = &outline,
                                           .copies = 3,
                                           .area = outline.area,
                                           .edging = &library.fixing("edging-tape"),
                                           .lining = &library.fixing("lining-thin"),
                                           .library = &library});
    REQUIRE(cost.lines.size() == 5);
    for (std::size_t i = 1; i < cost.lines.size(); ++i) {
      CHECK(cost.lines[i].amount.value() == 3.0);
      CHECK(near_rel(cost.lines[i].cost.value(), 3 * 2.0, 1e-12));
    }
  }
}
