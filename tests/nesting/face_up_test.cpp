// SPDX-License-Identifier: MIT
// Plane geometry: mirroring at a line turns a mirrored outline into a turned one (common knowledge, no
// source); GEOS judges every layout that comes of it.
#include <doctest/doctest.h>

#include "nesting/face_up.h"
#include "nesting/soundness.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::nesting;
using namespace warmsheet::testing;

namespace {

/// No mirror image of it can be turned onto it.
outline::Polygon hook() {
  return outline::Polygon::make({{0, 0}, {120, 0}, {120, 40}, {40, 40}, {40, 200}, {0, 200}}, {}, {});
}

Order one_hook(Rotations rotations) {
  Order order{{piece("hook", hook())}, {sheet(300, 260)}, 0.0, 5.0};
  order.pieces.front().may_flip = true;
  order.pieces.front().rotations = std::move(rotations);
  return order;
}

/// Mirrored left to right, it lies at x -120..0 before it is moved.
Layout face_down() {
  Layout layout;
  layout.sheets = {{0, 130.0, hook().area_mm2()}};
  layout.placements = {{0, 0, 0, 0.0, true, {125.0, 5.0}}};
  return layout;
}

}  // namespace

TEST_CASE("a piece that lies face down alone is turned up within the strip it takes") {
  const Order order = one_hook({.free = false, .angles_deg = {0.0, 180.0}});
  Layout layout = face_down();
  REQUIRE(check(order, layout).empty());
  const outline::Box before = placed_shape(order, layout.placements.front()).box();
  turn_faces_up(order, layout);
  const Placement& turned = layout.placements.front();
  CHECK_FALSE(turned.flipped);
  CHECK(near_abs(turned.angle_deg, 180.0, 1e-9));
  CHECK(check(order, layout).empty());
  const outline::Box after = placed_shape(order, turned).box();
  CHECK(near_abs(after.low.x_mm, before.low.x_mm, 1e-9));
  CHECK(near_abs(after.low.y_mm, before.low.y_mm, 1e-9));
  CHECK(near_abs(after.high.x_mm, before.high.x_mm, 1e-9));
}

TEST_CASE("what may not lie that way, is fixed, or lies on a spoilt or odd sheet stays as it is") {
  const auto stays = [](const Order& order) {
    Layout layout = face_down();
    turn_faces_up(order, layout);
    return layout.placements.front().flipped;
  };
  CHECK(stays(one_hook({.free = false, .angles_deg = {0.0}})));
  Order order = one_hook({.free = true});
  CHECK_FALSE(stays(order));
  order.fixed = face_down().placements;
  order.fixed_sheets = {0};
  CHECK(stays(order));
  order = one_hook({.free = true});
  order.stock.front().spoilt = {rectangle(10, 10)};
  CHECK(stays(order));
  order = one_hook({.free = true});
  order.stock.front().shape =
      outline::Polygon::make({{0, 0}, {300, 0}, {300, 200}, {240, 260}, {0, 260}}, {}, {});
  CHECK(stays(order));
}

TEST_CASE("no sheet of a search has more pieces face down than up") {
  Order order = one_hook({.free = true});
  order.pieces.front().copies = 9;
  const Layout layout = nest(order, effort(200));
  std::vector<int> up(layout.sheets.size());
  for (const Placement& p : layout.placements) up[p.sheet] += p.flipped ? -1 : 1;
  for (const int balance : up) CHECK(balance >= 0);
  require_sound(order, layout);
}
