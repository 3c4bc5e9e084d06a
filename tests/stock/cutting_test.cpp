// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <numbers>

#include "nesting/nest.h"
#include "stock/raster.h"
#include "stock/straight_cuts.h"
#include "stock/turned_boxes.h"
#include "stock/usage.h"
#include "support.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::stock;
using testing::near_abs;
using testing::near_rel;
using testing::rectangle_shape;

namespace {

/// A forearm piece in outline: a trough with a narrower palm.
outline::Polygon forearm_piece() {
  return outline::Polygon::make(
      {{-70, 0}, {70, 0}, {60, 160}, {45, 240}, {10, 250}, {5, 200}, {-20, 200}, {-45, 245}, {-62, 160}}, {},
      {});
}

outline::Polygon with_hole() {
  return outline::Polygon::make({{0, 0}, {200, 0}, {180, 120}, {20, 130}},
                                {{{60, 40}, {60, 90}, {120, 90}, {120, 40}}}, {});
}

/// Rasters shapes onto one sheet until one no longer fits; gives the same as a layout of the nesting room.
nesting::Layout lay(nesting::Order& order, double length, double width, double cell, bool may_flip) {
  nesting::Layout layout{{}, {}, 0, {}};
  Grid grid = grid_for(length, width, cell, order.spacing_mm, order.margin_mm);
  const double corner = order.margin_mm - 0.5 * order.spacing_mm;
  for (std::size_t p = 0; p < order.pieces.size(); ++p) {
    const Silhouette shape = silhouette(order.pieces[p].shape, cell, order.spacing_mm, 12, may_flip);
    int copies = 0;
    while (const auto spot = grid.find(shape)) {
      const Mask& mask = shape.turns[spot->turn];
      grid.put(mask, *spot);
      layout.placements.push_back(
          {p,
           copies++,
           0,
           mask.angle_deg,
           mask.flipped,
           {corner + spot->row * cell - mask.origin.x_mm, corner + spot->cell * cell - mask.origin.y_mm}});
    }
    order.pieces[p].copies = copies;
  }
  layout.sheets.push_back({0, length, 0.0});
  return layout;
}

}  // namespace

TEST_CASE("layouts on the grid pass the nesting room's exact check") {
  for (const bool flip : {false, true})
    for (const double cell : {5.0, 7.3})
      for (const double spacing : {0.0, 3.0, 8.0}) {
        nesting::Order order;
        const nesting::Rotations free{.free = true, .angles_deg = {}};
        order.pieces = {{"forearm", forearm_piece(), 1, free, flip},
                        {"hole", with_hole(), 1, free, flip},
                        {"small", rectangle_shape(60, 40), 1, free, flip}};
        order.stock = {{"sheet", rectangle_shape(600, 450), 1, 1.0, false}};
        order.spacing_mm = spacing;
        order.margin_mm = 4.0;
        const nesting::Layout layout = lay(order, 600, 450, cell, flip);
        CAPTURE(cell);
        CAPTURE(spacing);
        REQUIRE(layout.placements.size() > 4);
        for (const std::string& wrong : nesting::check(order, layout)) FAIL_CHECK(wrong);
      }
}

/// The forearm piece in three sizes as one kind.
KindPieces forearms() {
  KindPieces kind{{}, Figure::entered("area", Range::exactly(0.03), units::square_centimetre())};
  const outline::Polygon whole = forearm_piece();
  for (const double scale : {0.8, 0.9, 1.0}) {
    outline::Ring ring;
    for (const outline::Point& p : whole.outer()) ring.push_back({scale * p.x_mm, scale * p.y_mm});
    const outline::Polygon shape = outline::Polygon::make(ring, {}, {});
    kind.sizes.push_back({1.0 / 3.0, shape, shape.area_mm2(), shape.perimeter_mm(), turned_boxes(shape), {}});
  }
  return kind;
}

TEST_CASE("a batch on the grid takes at most a sheet more than the nesting room's full search") {
  const std::vector<KindPieces> kinds{forearms()};
  const KindPieces& kind = kinds.front();
  const CuttingRules rules{.method = Method::batched,
                           .spacing_mm = 3.0,
                           .margin_mm = 3.0,
                           .least_side_mm = 75.0,
                           .most_offcuts = 12};
  const CuttingBench bench({600, 450}, rules, kinds, {1.0});
  for (const int count : {4, 9, 15, 20}) {
    CAPTURE(count);
    std::vector<Arrival> arrivals;
    nesting::Order order;
    order.stock = {{"sheet", rectangle_shape(600, 450), -1, 1.0, false}};
    order.spacing_mm = rules.spacing_mm;
    order.margin_mm = rules.margin_mm;
    for (int i = 0; i < count; ++i) {
      const auto size = static_cast<std::uint32_t>(i % 3);
      arrivals.push_back({0.5, 0, size});
      order.pieces.push_back({"forearm", kind.sizes[size].shape, 1, {.free = true, .angles_deg = {}}, false});
    }
    SpotCache cache;
    const int on_grid = bench.cut(arrivals, 1, {}, {}, cache).months[0].sheets;
    const nesting::Layout search = nesting::nest(order, {.passes = 300});
    REQUIRE(search.unplaced.empty());
    CHECK(on_grid >= search.bound);
    CHECK(on_grid <= static_cast<int>(search.sheets.size()) + 1);
  }
}

TEST_CASE("rectangles as wide as a half sheet fill a sheet on the grid, and one more does not fit") {
  // By hand: 600 x 450 without margin or spacing holds 2 x 3 pieces of 300 x 150.
  const Silhouette shape = silhouette(rectangle_shape(300, 150), 5.0, 0.0, 4, false);
  Grid grid = grid_for(600, 450, 5.0, 0.0, 0.0);
  for (int i = 0; i < 6; ++i) {
    const auto spot = grid.find(shape);
    REQUIRE(spot.has_value());
    grid.put(shape.turns[spot->turn], *spot);
  }
  CHECK(!grid.find(shape).has_value());
  CHECK(grid.free_cells() == 0);
  CHECK(grid.used() == 120);
}

TEST_CASE("two halves of a sheet come from one, however their file lies, on the grid as by hand") {
  // 450 x 600 mm, 3 mm margin and spacing: two of 430 x 270 lie side by side (273 + 270 < 594).
  for (const double length : {430.0, 270.0}) {
    CAPTURE(length);
    const double width = 700.0 - length;
    const outline::Polygon shape = rectangle_shape(length, width);
    const KindPieces kind{{{1.0, shape, length * width, 2.0 * (length + width), turned_boxes(shape), {}}},
                          Figure::stated("area", Range::exactly(0.1161), *find_unit(Dimension::area, "m2"),
                                         {.basis = Basis::demo})};
    CuttingRules rules;
    rules.method = Method::batched;
    rules.spacing_mm = 3.0;
    rules.margin_mm = 3.0;
    const std::vector<KindPieces> kinds{kind};
    const CuttingBench bench({600.0, 450.0}, rules, kinds, {2.0});
    SpotCache cache;
    const Usage usage = bench.cut({{0.2, 0, 0}, {0.4, 0, 0}}, 1, {}, {}, cache);
    CHECK(usage.taken.size() == 1);
  }
}

TEST_CASE("the boxes of a rectangle are those of trigonometry, and its smallest is itself") {
  const auto boxes = turned_boxes(rectangle_shape(300, 100));
  const Rectangle least = smallest_box(boxes);
  CHECK(near_rel(least.area_mm2(), 300.0 * 100.0, 1e-12));
  // Turned by a: length 300 cos a + 100 sin a, width 300 sin a + 100 cos a.
  for (const Rectangle& box : boxes) {
    bool found = false;
    for (int degree = 0; degree < 180 && !found; ++degree) {
      const double a = degree * std::numbers::pi / 180.0;
      const double c = std::abs(std::cos(a));
      const double s = std::abs(std::sin(a));
      found = std::abs(box.length_mm - 300 * c - 100 * s) < 1e-9 &&
              std::abs(box.width_mm - 300 * s - 100 * c) < 1e-9;
    }
    CHECK(found);
  }
  for (std::size_t i = 1; i < boxes.size(); ++i) CHECK(boxes[i].width_mm < boxes[i - 1].width_mm);
}

TEST_CASE("pieces of 200 x 150 mm leave a 600 x 450 mm sheet as counted by hand, with and without a kerf") {
  // Counted by hand: nine without kerf; with a kerf of 3 mm three in a row need 606 mm, so two by two remain
  // upright, and turning the strips that are left holds more only where 200 or 150 still fit.
  const auto fill = [](double kerf) {
    Drawer drawer({kerf, 10.0}, 50);
    const std::vector<Rectangle> upright{{200, 150}};
    drawer.cut_new({600, 450}, upright, 0.0);
    int cut = 1;
    while (drawer.cut_from(upright)) ++cut;
    return cut;
  };
  CHECK(fill(0.0) == 9);
  CHECK(fill(3.0) == 4);
}

TEST_CASE("a blank is taken where the largest clean rectangle remains") {
  // By hand: 100 x 80 off 300 x 200 leaves 200 x 200 (first cut across) or 300 x 120 (first cut along): 40
  // 000 over 36 000.
  const auto rests = cut_blank({300, 200}, {{100, 80}}, {0.0, 50.0});
  REQUIRE(rests.has_value());
  REQUIRE(rests->kept.size() == 2);
  CHECK(rests->kept[0].area_mm2() == 200.0 * 200.0);
  CHECK(rests->kept[1].area_mm2() == 100.0 * 120.0);
  CHECK(!cut_blank({99, 200}, {{100, 80}}, {0.0, 50.0}).has_value());
}

TEST_CASE("straight cuts never give more area than they take, and rests are wide enough to keep") {
  CHECK(rc::check([] {
    const auto side = [](int low, int high) { return static_cast<double>(*rc::gen::inRange(low, high)); };
    const Rectangle from{side(50, 900), side(50, 600)};
    std::vector<Rectangle> boxes;
    for (int i = 0; i < 5; ++i) boxes.push_back({side(20, 500), side(20, 400)});
    const StraightRules rules{side(0, 10), side(20, 120)};
    const auto rests = cut_blank(from, boxes, rules);
    if (!rests) {
      for (const Rectangle& box : boxes)
        RC_ASSERT(box.length_mm > from.length_mm || box.width_mm > from.width_mm);
      return;
    }
    double kept = 0.0;
    for (const Rectangle& rest : rests->kept) {
      RC_ASSERT(std::min(rest.length_mm, rest.width_mm) >= rules.least_side_mm);
      RC_ASSERT(rest.length_mm <= from.length_mm);
      RC_ASSERT(rest.width_mm <= from.width_mm);
      kept += rest.area_mm2();
    }
    RC_ASSERT(kept + smallest_box(boxes).area_mm2() <= from.area_mm2() + 1e-6);
  }));
}

TEST_CASE("the smallest offcut that holds the piece is the one that is cut") {
  Drawer drawer({0.0, 50.0}, 10);
  drawer.put({{400, 300}, 0.0});
  drawer.put({{210, 160}, 0.0});
  drawer.put({{120, 120}, 0.0});
  REQUIRE(drawer.cut_from({{200, 150}}));
  CHECK(drawer.area_mm2() ==
        400.0 * 300.0 + 120.0 * 120.0);  // 210 x 160 is used up: its rests are too narrow
  drawer.drop_older_than(1.0);
  CHECK(drawer.count() == 0);
}

TEST_CASE("a full drawer loses its smallest offcut") {
  Drawer drawer({0.0, 50.0}, 2);
  for (const double side : {100.0, 300.0, 200.0}) drawer.put({{side, side}, 0.0});
  CHECK(drawer.area_mm2() == 300.0 * 300.0 + 200.0 * 200.0);
}
