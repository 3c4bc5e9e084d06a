// SPDX-License-Identifier: MIT
// The door of the room on small orders whose answer can be checked by hand or by GEOS.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <set>

#include "nesting/soundness.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::nesting;
using namespace warmsheet::testing;

TEST_CASE("rectangles that tile a sheet exactly go on one sheet, with no spacing and no margin") {
  // Hand-checkable: 3 x 3 pieces of 200 x 150 mm on 600 x 450 mm.
  const Order order{{piece("blank", rectangle(200, 150), 9)}, {sheet(600, 450)}, 0.0, 0.0};
  const Layout layout = nest(order, effort(200));
  CHECK(layout.sheets.size() == 1);
  CHECK(layout.bound == 1);
  CHECK(layout.unplaced.empty());
  CHECK(near_abs(layout.sheets[0].used_area_mm2, 270'000.0, 1e-6));
  require_sound(order, layout);
}

TEST_CASE("a gap of 3 mm leaves room for four of those pieces") {
  // 3 x 200 + 2 x 3 = 606 > 600 and 3 x 150 + 2 x 3 = 456 > 450: two by two on a sheet, nine need three
  // sheets.
  const Order order{{piece("blank", rectangle(200, 150), 9)}, {sheet(600, 450)}, 3.0, 0.0};
  const Layout layout = nest(order, effort(200));
  CHECK(layout.sheets.size() == 3);
  require_sound(order, layout);
}

TEST_CASE("pieces with a gap that fits to the millimetre are placed") {
  const Order order{{piece("blank", rectangle(200, 150), 9)}, {sheet(606, 456)}, 3.0, 0.0};
  const Layout layout = nest(order, effort(200));
  CHECK(layout.sheets.size() == 1);
  require_sound(order, layout);
}

TEST_CASE("a piece as wide as the sheet fits with margin 0, spacing or not, and not with a margin") {
  Order order{{piece("wide", rectangle(600, 450), 1)}, {sheet(600, 450)}, 5.0, 0.0};
  const Layout layout = nest(order, effort(200));
  CHECK(layout.unplaced.empty());
  require_sound(order, layout);
  order.margin_mm = 1.0;
  const Layout none = nest(order, effort(200));
  REQUIRE(none.unplaced.size() == 1);
  CHECK(none.placements.empty());
  CHECK(none.sheets.empty());
  CHECK(none.unplaced.front().reason.find("by at least 2.0 mm") != std::string::npos);
}

TEST_CASE("margin and spacing are figures of their own") {
  const Order order{{piece("blank", rectangle(100, 100), 4)}, {sheet(230, 230)}, 10.0, 10.0};
  const Layout layout = nest(order, effort(200));
  CHECK(layout.sheets.size() == 1);
  require_sound(order, layout);
  CHECK(near_abs(layout.sheets[0].used_length_mm, 230.0, 1e-6));
}

TEST_CASE("a small piece goes into the hole of a large one when there is no other room") {
  const outline::Polygon frame =
      polygon({{0, 0}, {200, 0}, {200, 200}, {0, 200}}, {{{50, 50}, {50, 150}, {150, 150}, {150, 50}}});
  const Order order{{piece("frame", frame), piece("thumb", rectangle(90, 90))}, {sheet(210, 200)}, 2.0, 0.0};
  const Layout layout = nest(order, effort(200));
  CHECK(layout.sheets.size() == 1);
  require_sound(order, layout);
}

TEST_CASE("a kept offcut is used before a sheet is opened") {
  const outline::Polygon corner = polygon({{0, 0}, {300, 0}, {300, 100}, {100, 100}, {100, 300}, {0, 300}});
  const Order order{{piece("blank", rectangle(90, 90), 3)}, {sheet(600, 450), offcut(corner)}, 2.0, 3.0};
  const Layout layout = nest(order, effort(200));
  REQUIRE(layout.sheets.size() == 1);
  CHECK(layout.sheets[0].stock == 1);
  CHECK(layout.bound == 0);
  require_sound(order, layout);
}

TEST_CASE("a spoilt zone of an offcut stays free") {
  const outline::Polygon spoilt =
      polygon({{0, 0}, {400, 0}, {400, 200}, {0, 200}}, {{{180, 80}, {180, 120}, {220, 120}, {220, 80}}});
  const Order order{{piece("blank", rectangle(150, 150), 2)}, {offcut(spoilt)}, 2.0, 5.0};
  const Layout layout = nest(order, effort(200));
  CHECK(layout.unplaced.empty());
  require_sound(order, layout);
}

TEST_CASE("what finds no room on the stock there is, is named and not placed") {
  Stock one = sheet(300, 300);
  one.count = 1;
  const Order order{{piece("blank", rectangle(200, 200), 2)}, {one}, 2.0, 0.0};
  const Layout layout = nest(order, effort(200));
  REQUIRE(layout.unplaced.size() == 1);
  CHECK(layout.unplaced[0].piece == 0);
  CHECK(layout.unplaced[0].copy == 1);
  CHECK(layout.placements.size() == 1);
}

TEST_CASE("of two sheet sizes the cheaper way is taken") {
  Stock large = sheet(600, 450);
  large.price = 50.0;
  Stock small = sheet(450, 300);
  small.price = 20.0;
  SUBCASE("one small sheet does") {
    const Order order{{piece("blank", rectangle(140, 90), 8)}, {large, small}, 2.0, 0.0};
    const Layout layout = nest(order, effort(200));
    REQUIRE(layout.sheets.size() == 1);
    CHECK(layout.sheets[0].stock == 1);
  }
  SUBCASE("one large sheet costs less than three small ones") {
    const Order order{{piece("blank", rectangle(190, 140), 9)}, {large, small}, 2.0, 0.0};
    const Layout layout = nest(order, effort(200));
    REQUIRE(layout.sheets.size() == 1);
    CHECK(layout.sheets[0].stock == 0);
  }
}

TEST_CASE("of two sheet sizes without prices the fewest sheets are taken, and of as many the smaller") {
  Stock large = sheet(600, 450);
  Stock small = sheet(310, 200);
  large.price = small.price = 0.0;
  SUBCASE("two large ones, not eight small ones that add up to less") {
    const Order order{{piece("blank", rectangle(290, 190), 8)}, {small, large}, 2.0, 0.0};
    const Layout layout = nest(order, effort(200));
    CHECK(layout.unplaced.empty());
    CHECK(layout.sheets.size() == 2);
  }
  SUBCASE("one small one does") {
    const Order order{{piece("blank", rectangle(290, 190), 1)}, {large, small}, 2.0, 0.0};
    const Layout layout = nest(order, effort(200));
    REQUIRE(layout.sheets.size() == 1);
    CHECK(layout.sheets[0].stock == 1);
  }
}

TEST_CASE("random outlines with holes, gaps, margins and turns never overlap") {
  for (const unsigned seed : {1U, 2U, 3U, 4U, 5U, 6U}) {
    CAPTURE(seed);
    Order order{{}, {sheet(300, 250)}, seed % 3 == 0 ? 0.0 : 1.5 * seed, seed % 2 == 0 ? 0.0 : 4.0};
    for (unsigned k = 0; k < 5; ++k) {
      Piece p = piece(fmt::format("outline {}", k),
                      random_outline(10 * seed + k, 7 + static_cast<int>(k), k % 2 == 0), 2);
      p.rotations.free = k == 0;
      if (k > 1) p.rotations.angles_deg = {0, 90, 180, 270};
      p.may_flip = k == 3;
      order.pieces.push_back(p);
    }
    const Layout layout = nest(order, effort(60, seed));
    CHECK(layout.unplaced.empty());
    CHECK(layout.placements.size() == 10);
    require_sound(order, layout);
    CHECK(check(order, layout).empty());
  }
}

TEST_CASE("the same order, seed and passes give the same layout for any number of threads") {
  Order order{{}, {sheet(300, 250)}, 2.0, 3.0};
  for (unsigned k = 0; k < 6; ++k)
    order.pieces.push_back(piece(fmt::format("p{}", k), random_outline(k, 8, false), 2));
  Effort e = effort(80, 7);
  const Layout once = nest(order, e);
  for (const int threads : {1, 2, 4}) {
    CAPTURE(threads);
    e.threads = threads;
    const Layout again = nest(order, e);
    REQUIRE(again.placements.size() == once.placements.size());
    for (std::size_t i = 0; i < once.placements.size(); ++i) {
      CHECK(again.placements[i].move == once.placements[i].move);
      CHECK(again.placements[i].angle_deg == once.placements[i].angle_deg);
      CHECK(again.placements[i].sheet == once.placements[i].sheet);
    }
  }
}

TEST_CASE("the check finds what is wrong with a layout") {
  const Order order{{piece("blank", rectangle(100, 100), 2)}, {sheet(300, 200)}, 5.0, 5.0};
  Layout layout = nest(order, effort(200));
  REQUIRE(check(order, layout).empty());
  SUBCASE("an overlap") {
    layout.placements[1].move = layout.placements[0].move;
  }
  SUBCASE("too near each other") {
    layout.placements[1].move = {layout.placements[0].move.x_mm + 104.9, layout.placements[0].move.y_mm};
  }
  SUBCASE("too near the edge") {
    layout.placements[0].move.x_mm = 4.9;
  }
  SUBCASE("a copy missing") {
    layout.placements.pop_back();
  }
  SUBCASE("a copy twice") {
    layout.placements[1].copy = layout.placements[0].copy;
  }
  CHECK_FALSE(check(order, layout).empty());
}

TEST_CASE("orders that make no sense are refused with words") {
  const Order good{{piece("blank", rectangle(100, 100))}, {sheet(300, 200)}, 0.0, 0.0};
  struct Row {
    const char* what;
    void (*spoil)(Order&);
    const char* says;
  };
  const Row rows[] = {
      {"no pieces", [](Order& o) { o.pieces.clear(); }, "nothing to place"},
      {"no stock", [](Order& o) { o.stock.clear(); }, "nothing to place it on"},
      {"no copies", [](Order& o) { o.pieces[0].copies = 0; }, "0 copies"},
      {"negative spacing", [](Order& o) { o.spacing_mm = -1.0; }, "spacing"},
      {"a margin that is no number", [](Order& o) { o.margin_mm = std::nan(""); }, "margin"},
      {"no angle", [](Order& o) { o.pieces[0].rotations.angles_deg.clear(); }, "allowed angles"},
      {"negative price", [](Order& o) { o.stock[0].price = -3.0; }, "price"},
      {"negative count", [](Order& o) { o.stock[0].count = -2; }, "in stock"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.what);
    Order bad = good;
    row.spoil(bad);
    try {
      static_cast<void>(nest(bad, effort(200)));
      FAIL("accepted");
    } catch (const Failure& failure) {
      CHECK(failure.trouble() == Trouble::data);
      CHECK(std::string(failure.what()).find(row.says) != std::string::npos);
    }
  }
}
