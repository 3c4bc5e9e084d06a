// SPDX-License-Identifier: MIT
// Outlines that break geometry code: slivers, very many corners, needles, combs, spirals, edges that nearly
// touch.
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "nesting/soundness.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::nesting;
using namespace warmsheet::testing;

namespace {

outline::Polygon rough_disc(int corners, double radius, double roughness) {
  outline::Ring ring;
  for (int k = 0; k < corners; ++k) {
    const double angle = 2.0 * std::numbers::pi * k / corners;
    const double r = radius * (1.0 + roughness * std::sin(7.0 * angle) + 0.2 * roughness * (k % 2));
    ring.push_back({r * std::cos(angle), r * std::sin(angle)});
  }
  return polygon(ring);
}

outline::Polygon comb(int teeth) {
  outline::Ring ring{{0, 0}};
  for (int k = 0; k < teeth; ++k) {
    ring.push_back({10.0 * k + 6.0, 0.0});
    ring.push_back({10.0 * k + 6.0, 60.0});
    ring.push_back({10.0 * k + 10.0, 60.0});
    ring.push_back({10.0 * k + 10.0, 0.0});
  }
  ring.push_back({10.0 * teeth + 6.0, 0.0});
  ring.push_back({10.0 * teeth + 6.0, 80.0});
  ring.push_back({0.0, 80.0});
  return polygon(ring);
}

}  // namespace

TEST_CASE("slivers and needles are placed") {
  Order order{{piece("sliver", polygon({{0, 0}, {150, 0.05}, {150, 0.2}, {0, 0.3}}), 3),
               piece("needle", polygon({{0, 0}, {100, 0.5}, {0, 1}}), 3)},
              {sheet(200, 100)},
              1.0,
              1.0};
  for (Piece& p : order.pieces) p.rotations.free = true;
  require_whole(order, nest(order, effort(60)));
}

TEST_CASE("an outline of ten thousand corners is placed") {
  const Order order{{piece("rough", rough_disc(10'000, 90.0, 0.08), 2)}, {sheet(450, 300)}, 2.0, 3.0};
  require_whole(order, nest(order, effort(20)));
}

TEST_CASE("duplicates, combs that interlock, and a shape drawn far from the origin") {
  const outline::Polygon far = comb(6).placed(0.0, {5000.0, -4000.0});
  Order order{{piece("comb", comb(6), 2), piece("far", far, 2)}, {sheet(300, 200)}, 0.5, 0.0};
  for (Piece& p : order.pieces) p.rotations.angles_deg = {0, 180};
  require_whole(order, nest(order, effort(60)));
}

TEST_CASE("a spiral with a narrow gap is neither filled wrongly nor overlapped") {
  outline::Ring ring;
  for (int k = 0; k <= 60; ++k) {
    const double angle = 0.2 * k;
    ring.push_back({(10.0 + 4.0 * angle) * std::cos(angle), (10.0 + 4.0 * angle) * std::sin(angle)});
  }
  for (int k = 60; k >= 0; --k) {
    const double angle = 0.2 * k;
    ring.push_back({(22.0 + 4.0 * angle) * std::cos(angle), (22.0 + 4.0 * angle) * std::sin(angle)});
  }
  Order order{
      {piece("spiral", polygon(ring), 2), piece("stick", rectangle(60, 8), 4)}, {sheet(300, 200)}, 1.0, 2.0};
  order.pieces[1].rotations.free = true;
  require_whole(order, nest(order, effort(60)));
}

TEST_CASE("edges that nearly touch: a slot a hair wider than the piece that goes in") {
  const outline::Polygon slotted = polygon({{0, 0}, {200, 0}, {200, 100}, {0, 100}},
                                           {{{50, 40}, {50, 60.001}, {150.001, 60.001}, {150.001, 40}}});
  const Order order{
      {piece("slotted", slotted), piece("key", rectangle(100, 20))}, {sheet(200, 100)}, 0.0, 0.0};
  const Layout layout = nest(order, effort(300));
  CHECK(layout.sheets.size() <= 2);
  require_whole(order, layout);
}

TEST_CASE("a sheet with a ragged edge and many spoilt zones") {
  outline::Ring edge;
  for (int k = 0; k < 40; ++k) edge.push_back({10.0 * k, k % 2 == 0 ? 0.0 : 6.0});
  edge.push_back({390, 250});
  edge.push_back({0, 250});
  std::vector<outline::Ring> holes;
  for (int k = 0; k < 5; ++k) {
    const double x = 50.0 + 70.0 * k;
    holes.push_back({{x, 120}, {x, 130}, {x + 10, 130}, {x + 10, 120}});
  }
  const Order order{
      {piece("blank", rectangle(45, 80), 6)}, {offcut(polygon(edge, holes)), sheet(400, 300)}, 2.0, 3.0};
  require_whole(order, nest(order, effort(60)));
}

TEST_CASE("what is too large is named with by how much, and the rest is placed") {
  const Order order{
      {piece("huge", rectangle(700, 460)), piece("fits", rectangle(100, 100))}, {sheet(600, 450)}, 0.0, 5.0};
  const Layout layout = nest(order, effort(60));
  REQUIRE(layout.unplaced.size() == 1);
  CHECK(layout.unplaced[0].piece == 0);
  CHECK(layout.unplaced[0].reason.find("110.0 mm") != std::string::npos);  // 700 + 2 * 5 - 600
  CHECK(layout.placements.size() == 1);
}
