// SPDX-License-Identifier: MIT
// What an order may ask for besides few sheets: groups, fixed pieces, an earlier layout, priority, spoilt
// zones, turns.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>

#include "nesting/soundness.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::nesting;
using namespace warmsheet::testing;

TEST_CASE("the parts of one orthosis come from one sheet") {
  // Two long and two short parts: by size alone both long ones share a sheet and each pair is torn apart.
  Order order{{piece("splint", rectangle(280, 200), 2), piece("thumb", rectangle(280, 90), 2)},
              {sheet(300, 300)},
              2.0,
              0.0};
  for (Piece& p : order.pieces) p.group = "wrist";
  const Layout layout = nest(order, effort(300));
  CHECK(layout.unplaced.empty());
  CHECK(layout.sheets.size() == 2);
  std::map<int, std::set<std::size_t>> sheets_of;
  for (const Placement& p : layout.placements) sheets_of[p.copy].insert(p.sheet);
  for (const auto& [copy, sheets] : sheets_of) CHECK(sheets.size() == 1);
  require_sound(order, layout);
}

TEST_CASE("a group that no sheet takes whole is named, not torn apart") {
  Order order{
      {piece("a", rectangle(200, 200)), piece("b", rectangle(200, 200))}, {sheet(300, 300)}, 0.0, 0.0};
  for (Piece& p : order.pieces) p.group = "both";
  const Layout layout = nest(order, effort(300));
  CHECK(layout.placements.empty());
  CHECK(layout.unplaced.size() == 2);
}

TEST_CASE("a fixed piece stays where it is, to the last digit, and the others keep clear of it") {
  Order order{{piece("laid", rectangle(100, 100)), piece("new", rectangle(140, 140), 3)},
              {sheet(300, 300)},
              4.0,
              2.0};
  order.fixed_sheets = {0};
  order.fixed = {{0, 0, 0, 17.0, false, {150.25, 140.5}}};
  const Layout layout = nest(order, effort(300));
  CHECK(layout.unplaced.empty());
  const auto laid = std::find_if(layout.placements.begin(), layout.placements.end(),
                                 [](const Placement& p) { return p.piece == 0; });
  REQUIRE(laid != layout.placements.end());
  CHECK(laid->move == outline::Point{150.25, 140.5});
  CHECK(laid->angle_deg == 17.0);
  require_sound(order, layout);
}

TEST_CASE("fixed pieces that overlap, or lie outside, are refused with words") {
  Order order{{piece("laid", rectangle(100, 100), 2)}, {sheet(300, 300)}, 4.0, 2.0};
  order.fixed_sheets = {0};
  order.fixed = {{0, 0, 0, 0.0, false, {10, 10}}, {0, 1, 0, 0.0, false, {50, 50}}};
  CHECK_THROWS_AS(static_cast<void>(nest(order, effort(300))), Failure);
  order.fixed = {{0, 0, 0, 0.0, false, {250, 10}}};
  CHECK_THROWS_AS(static_cast<void>(nest(order, effort(300))), Failure);
  order.fixed = {{0, 7, 0, 0.0, false, {10, 10}}};
  CHECK_THROWS_AS(static_cast<void>(nest(order, effort(300))), Failure);
}

TEST_CASE("begun from an earlier layout, the answer is never worse than that layout") {
  Order order{{}, {sheet(320, 240)}, 2.0, 3.0};
  for (unsigned k = 0; k < 5; ++k) {
    order.pieces.push_back(piece("p" + std::to_string(k), random_outline(40 + k, 9, k == 1), 2));
    order.pieces.back().rotations.free = k % 2 == 0;
  }
  const Layout earlier = nest(order, effort(1500));
  Effort little = effort(5);
  const Layout cold = nest(order, little);
  little.start = &earlier;
  const Layout warm = nest(order, little);
  require_sound(order, warm);
  CHECK(warm.sheets.size() <= earlier.sheets.size());
  if (warm.sheets.size() == earlier.sheets.size())
    CHECK(warm.sheets.back().used_length_mm <= earlier.sheets.back().used_length_mm + 1e-6);
  CHECK(earlier.sheets.size() <= cold.sheets.size());
}

TEST_CASE("an earlier layout that is not sound has no effect") {
  const Order order{{piece("blank", rectangle(100, 100), 3)}, {sheet(300, 200)}, 2.0, 0.0};
  Layout wrong = nest(order, effort(300));
  const Layout cold = nest(order, effort(300));
  wrong.placements[1].move = wrong.placements[0].move;
  Effort e = effort(300);
  e.start = &wrong;
  const Layout layout = nest(order, e);
  REQUIRE(layout.placements.size() == 3);
  CHECK(layout.placements[2].move == cold.placements[2].move);
}

TEST_CASE("where stock runs out, what has priority is placed") {
  Stock one = sheet(300, 200);
  one.count = 1;
  Order order{{piece("large", rectangle(280, 180)), piece("urgent", rectangle(150, 150))}, {one}, 2.0, 0.0};
  order.pieces[1].priority = 5;
  const Layout layout = nest(order, effort(300));
  REQUIRE(layout.placements.size() == 1);
  CHECK(layout.placements[0].piece == 1);
}

TEST_CASE("a spoilt zone over the edge of a sheet stays free") {
  Stock stained = sheet(400, 200);
  stained.spoilt = {polygon({{150, -20}, {250, -20}, {250, 120}, {150, 120}})};
  const Order order{{piece("blank", rectangle(140, 140), 2)}, {stained}, 2.0, 5.0};
  const Layout layout = nest(order, effort(300));
  CHECK(layout.unplaced.empty());
  CHECK(layout.sheets.size() == 1);
  require_sound(order, layout);
  for (const Placement& p : layout.placements) {
    const outline::Box box = placed_shape(order, p).box();
    CHECK((box.high.x_mm <= 145.0 + 1e-6 || box.low.x_mm >= 255.0 - 1e-6 || box.low.y_mm >= 125.0 - 1e-6));
  }
}

TEST_CASE("a piece that fits only diagonally is placed if it may be turned freely") {
  // 480 x 20 in 400 x 300: at the sheet's diagonal (36.87 degrees) its box is 396 x 304, near 35 degrees
  // 404.7; a little shorter one fits: 460 x 20 needs 460 cos a + 20 sin a <= 400 and 460 sin a + 20 cos a <=
  // 300, true for a = 35 degrees (388.3, 280.2).
  Order order{{piece("long", rectangle(460, 20))}, {sheet(400, 300)}, 0.0, 0.0};
  order.pieces[0].rotations.angles_deg = {0, 90};
  CHECK(nest(order, effort(300)).unplaced.size() == 1);
  order.pieces[0].rotations.free = true;
  const Layout layout = nest(order, effort(300));
  CHECK(layout.unplaced.empty());
  require_sound(order, layout);
}

TEST_CASE("a piece that fits at hardly any angle is found") {
  // 480 x 10 in 400 x 300: 480 cos a + 10 sin a <= 400 from a = 34.7 degrees, 480 sin a + 10 cos a <= 300 up
  // to 37.4.
  Order order{{piece("long", rectangle(480, 10))}, {sheet(400, 300)}, 0.0, 0.0};
  order.pieces[0].rotations.free = true;
  const Layout layout = nest(order, effort(300));
  CHECK(layout.unplaced.empty());
  require_sound(order, layout);
}

TEST_CASE("a piece is flipped only if it may be") {
  // A right-handed L fills its box's notch only with a left-handed one turned; by area both need a flip to
  // share a sheet.
  const outline::Polygon flag = polygon({{0, 0}, {100, 0}, {100, 100}, {50, 100}, {0, 50}});
  Order order{{piece("flag", flag, 6)}, {sheet(320, 220)}, 2.0, 2.0};
  order.pieces[0].rotations.angles_deg = {0};
  const Layout plain = nest(order, effort(300));
  CHECK(std::none_of(plain.placements.begin(), plain.placements.end(),
                     [](const Placement& p) { return p.flipped; }));
  order.pieces[0].may_flip = true;
  require_sound(order, nest(order, effort(300)));
}

namespace {

/// Two squares of 50 on an L of 300 with arms 100 wide and a hole of 20 in its corner, a spoilt zone at the
/// right end; one lies already, both belong together.
struct Checked {
  Order order;
  Layout layout;
};

Checked sound_example() {
  Stock ell = offcut(polygon({{0, 0}, {300, 0}, {300, 100}, {100, 100}, {100, 300}, {0, 300}},
                             {{{20, 20}, {20, 40}, {40, 40}, {40, 20}}}));
  ell.spoilt = {polygon({{270, 20}, {310, 20}, {310, 40}, {270, 40}})};
  Checked made{{{piece("a", rectangle(50, 50)), piece("b", rectangle(50, 50))}, {ell}, 4.0, 5.0}, {}};
  for (Piece& p : made.order.pieces) p.group = "both";
  made.order.fixed_sheets = {0};
  made.order.fixed = {{0, 0, 0, 0.0, false, {50, 45}}};
  made.layout.sheets = {{0, 0.0, 0.0}};
  made.layout.placements = {made.order.fixed[0], {1, 0, 0, 0.0, false, {150, 10}}};
  return made;
}

}  // namespace

TEST_CASE("the check tells every way in which a layout can break its order, one at a time") {
  REQUIRE(check(sound_example().order, sound_example().layout).empty());
  struct Row {
    const char* says;
    void (*spoil)(Checked&);
  };
  const Row rows[] = {
      {"of no stock", [](Checked& c) { c.layout.sheets[0].stock = 1; }},
      {"no piece or no sheet", [](Checked& c) { c.layout.placements[1].piece = 2; }},
      {"no piece or no sheet", [](Checked& c) { c.layout.placements[1].sheet = 1; }},
      {"not asked for", [](Checked& c) { c.layout.placements[1].copy = 1; }},
      {"not asked for", [](Checked& c) { c.layout.placements[1].copy = -1; }},
      {"placed twice", [](Checked& c) { c.layout.placements.push_back(c.layout.placements[1]); }},
      {"2 of offcut used, there are 1",
       [](Checked& c) {
         c.layout.sheets.push_back({0, 0.0, 0.0});
       }},
      {"not on the sheet of its group",
       [](Checked& c) {
         c.order.stock[0].count = 2;
         c.layout.sheets.push_back({0, 0.0, 0.0});
         c.layout.placements[1].sheet = 1;
       }},
      {"was fixed and was moved", [](Checked& c) { c.layout.placements[0].move.y_mm += 1.0; }},
      {"was fixed and was moved", [](Checked& c) { c.layout.placements[0].angle_deg = 360.0; }},
      {"not inside sheet 1",
       [](Checked& c) {
         c.layout.placements[1].move = {200, 51};
       }},  // over the upper edge
      {"not inside sheet 1",
       [](Checked& c) {
         c.layout.placements[1].move = {200, 46};
       }},  // 4 mm from it
      {"not inside sheet 1",
       [](Checked& c) {
         c.layout.placements[1].move = {150, 4};
       }},  // 4 mm from the lower one
      {"not inside sheet 1",
       [](Checked& c) {
         c.layout.placements[1].move = {120, 80};
       }},  // in the notch
      {"not inside sheet 1",
       [](Checked& c) {
         c.layout.placements[0].move = {15, 44};
       }},  // 4 mm from the hole
      {"not inside sheet 1",
       [](Checked& c) {
         c.layout.placements[0].move = {10, 10};
       }},  // over the hole
      {"spoilt zone",
       [](Checked& c) {
         c.layout.placements[1].move = {216.5, 10};
       }},  // 3.5 mm from it
      {"spoilt zone",
       [](Checked& c) {
         c.layout.placements[1].move = {230, 10};
       }},  // on it
      {"apart",
       [](Checked& c) {
         c.layout.placements[1].move = {103, 45};
       }},  // 3 mm
      {"overlap",
       [](Checked& c) {
         c.layout.placements[1].move = {90, 45};
       }},
  };
  for (const Row& row : rows) {
    CAPTURE(row.says);
    Checked broken = sound_example();
    row.spoil(broken);
    const std::vector<std::string> wrong = check(broken.order, broken.layout);
    CAPTURE(wrong.size());
    CHECK(std::any_of(wrong.begin(), wrong.end(),
                      [&](const std::string& one) { return one.find(row.says) != std::string::npos; }));
  }
}
