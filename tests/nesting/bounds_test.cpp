// SPDX-License-Identifier: MIT
// Bounds against numbers worked by hand and against layouts that exist.
#include <doctest/doctest.h>

#include "nesting/bounds.h"
#include "nesting/form.h"
#include "nesting/orders.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::nesting;
using namespace warmsheet::testing;

TEST_CASE("the one-dimensional bound on worked examples") {
  // Martello and Toth 1990 is the source of the bound; the rows are worked by hand.
  struct Row {
    std::vector<double> sizes;
    double capacity;
    int bound;
  };
  const Row rows[] = {
      {{}, 10, 0},
      {{5, 5}, 10, 1},           // exactly full
      {{6, 6, 6}, 10, 3},        // no two together, though 18 / 10 rounds up to 2
      {{7, 7, 4, 4}, 10, 3},     // the sevens alone; the fours share one; area says 3 too
      {{6, 6, 5, 5, 5}, 10, 4},  // a six leaves 4: nothing of 5 fits; three fives need two more
      {{3, 3, 3, 3}, 10, 2},
  };
  for (const Row& row : rows) {
    CAPTURE(row.capacity);
    CAPTURE(row.sizes.size());
    CHECK(one_dimensional_bound(row.sizes, row.capacity) == row.bound);
  }
}

TEST_CASE("the inscribed rectangle of simple shapes") {
  const Region square = region_of(rectangle(100, 80));
  CHECK(near_rel(inscribed_width(square, 80.0), 100.0, 1e-12));
  CHECK(inscribed_width(square, 80.1) == 0.0);
  // An L: 100 wide and 30 high below, 40 wide and 100 high at the left.
  const Region ell = region_of(polygon({{0, 0}, {100, 0}, {100, 30}, {40, 30}, {40, 100}, {0, 100}}));
  CHECK(inscribed_width(ell, 60.0) <= 40.0);
  CHECK(inscribed_width(ell, 60.0) >= 37.0);  // within a column of the grid
  // A frame: what crosses the hole is not inside.
  const Region frame =
      region_of(polygon({{0, 0}, {90, 0}, {90, 90}, {0, 90}}, {{{30, 30}, {30, 60}, {60, 60}, {60, 30}}}));
  CHECK(inscribed_width(frame, 40.0) <= 30.0);
}

TEST_CASE("pieces of which no two share a sheet need a sheet each, whatever their area says") {
  // A regular 24-gon of radius 120: two circles of radius 119 cannot lie apart in 400 x 300, since the
  // centres are at most hypot(400 - 238, 300 - 238) = 173.5 apart. Three have 1.1 sheets of area each...
  // together 1.13 sheets.
  std::vector<outline::Point> ring;
  for (int k = 0; k < 24; ++k)
    ring.push_back({120.0 * std::cos(k * 0.2617993878), 120.0 * std::sin(k * 0.2617993878)});
  Order order{{piece("disc", polygon(ring), 3)}, {sheet(400, 300)}, 0.0, 0.0};
  order.pieces[0].rotations.free = true;
  const Layout layout = nest(order, {});
  CHECK(layout.bound == 3);
  CHECK(layout.sheets.size() == 3);
}

TEST_CASE("pieces that can only stand in one row need their length") {
  // 160 x 200 on 400 x 300, not turned: two side by side, none above another; five need three sheets, by area
  // two.
  const Order order{{piece("blank", rectangle(160, 200), 5)}, {sheet(400, 300)}, 2.0, 0.0};
  const Layout layout = nest(order, {});
  CHECK(layout.bound == 3);
  CHECK(layout.sheets.size() == 3);
}

TEST_CASE(
    "pieces a little lower than half the sheet may lie high and low, their gap slantwise between them") {
  // By hand: 30 x 50.001 at (0, 0), (30.4, 59.999) and (60.8, 0) on 91 x 110; the corners of neighbours are
  // hypot(0.4, 9.998) = 10.006 apart, more than the gap of 10. A bound of two sheets would be none.
  const Order order{{piece("blank", rectangle(30, 50.001), 3)}, {sheet(91, 110)}, 10.0, 0.0};
  CHECK(nest(order, {}).bound == 1);
}

TEST_CASE("the gap round each piece counts: what it takes away cannot be cut from") {
  // Nine squares of 100 with a gap of 10 fill 330 x 330 less the gap at the rim, 320 x 320; by their bare
  // area ten would need 0.98 of that sheet, but with half the gap round them 110 x 110 each: 1.11 sheets.
  const Order order{{piece("square", rectangle(100, 100), 10)}, {sheet(320, 320)}, 10.0, 0.0};
  const Layout layout = nest(order, {});
  CHECK(layout.bound == 2);
  CHECK(layout.sheets.size() == 2);
  Order nine = order;
  nine.pieces[0].copies = 9;
  CHECK(nest(nine, {}).bound == 1);
  // A margin wider than half the gap: 320 + 10 - 2 * 20 = 290, so nine no longer go on one.
  nine.margin_mm = 20.0;
  CHECK(nest(nine, {}).bound == 2);
}

TEST_CASE("a long piece that may be turned freely: no length is called the least that a tilt goes below") {
  // 500 x 60 on a sheet 450 high: upright it is too high, and so it is 22.5 degrees off; 45 degrees off it is
  // 396 long, but 33.5 degrees off it is 450 high and 326 long (500 sin a + 60 cos a).
  Order order{{piece("long", rectangle(500, 60))}, {sheet(700, 450)}, 0.0, 0.0};
  order.pieces[0].rotations.free = true;
  const Layout layout = nest(order, {});
  CHECK(layout.shortest_mm <= 326.0);
  CHECK(layout.sheets[0].used_length_mm <= 327.0);
}

TEST_CASE(
    "parts of one orthosis may change sheets together: no length is called the least that this goes below") {
  // Sheets 300 x 300, nothing turned: the parts of a, 200 long, and those of b, 150 long, do not go on one.
  // The last sheet is the one with less on it, a's; with b's on it instead it would be 150 long.
  Order order{{piece("a1", rectangle(200, 110)), piece("a2", rectangle(200, 50)),
               piece("b1", rectangle(150, 145)), piece("b2", rectangle(150, 145))},
              {sheet(300, 300)},
              0.0,
              0.0};
  for (std::size_t i = 0; i < 4; ++i) order.pieces[i].group = i < 2 ? "a" : "b";
  const Layout layout = nest(order, {});
  REQUIRE(layout.sheets.size() == 2);
  CHECK(layout.shortest_mm <= 150.0);
}

TEST_CASE("no layout found uses fewer sheets than its bound") {
  for (unsigned seed = 1; seed <= 8; ++seed) {
    CAPTURE(seed);
    Order order{{}, {sheet(260, 200), offcut(rectangle(150, 130))}, 2.0, 2.0};
    for (unsigned k = 0; k < 4; ++k)
      order.pieces.push_back(piece("p" + std::to_string(k), random_outline(100 * seed + k, 8, false),
                                   1 + static_cast<int>(k % 3)));
    const Layout layout = nest(order, {});
    int sheets = 0;
    for (const UsedSheet& s : layout.sheets) sheets += order.stock[s.stock].offcut ? 0 : 1;
    CHECK(sheets >= layout.bound);
  }
}
