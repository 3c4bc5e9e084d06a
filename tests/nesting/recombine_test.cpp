// SPDX-License-Identifier: MIT
// Known loads put together anew, against covers worked by hand.
#include "nesting/recombine.h"

#include <doctest/doctest.h>

#include <numeric>

#include "nesting/soundness.h"

using namespace warmsheet::nesting;
using namespace warmsheet::testing;

namespace {

constexpr int plenty = 1000;

int covered(const std::vector<Taken>& cover, std::size_t piece) {
  int sum = 0;
  for (const Taken& taken : cover)
    for (const auto& [p, count] : taken.pieces) sum += p == piece ? count : 0;
  return sum;
}

}  // namespace

TEST_CASE("loads of equal pairs are found again where mixed loads waste a sheet") {
  // Three of 0.6 and six of 0.3 of a sheet: 0.6 + 0.3 thrice, and three of 0.3 once, four sheets; the load
  // of 0.3 three times first would leave 0.6 alone three times and 0.3 three times: five.
  const std::vector<Load> loads{{0, {{1, 3}}}, {0, {{0, 1}, {1, 1}}}, {0, {{0, 1}}}};
  const Demand demand{{3, 6}, {0.6, 0.3}, {{1.0, 1.0, plenty}}};
  const std::vector<Taken> cover = recombined(loads, demand);
  CHECK(cover.size() == 4);
  CHECK(covered(cover, 0) == 3);
  CHECK(covered(cover, 1) == 6);
}

TEST_CASE("a part of a load is a load, and what no load holds is not covered") {
  const std::vector<Load> loads{{0, {{0, 2}, {1, 2}}}};
  const std::vector<Taken> cover = recombined(loads, {{3, 1, 0}, {0.2, 0.2, 0.2}, {{1.0, 1.0, plenty}}});
  CHECK(cover.size() == 2);
  CHECK(covered(cover, 0) == 3);
  CHECK(covered(cover, 1) == 1);
  CHECK(recombined(loads, {{1, 1, 1}, {0.2, 0.2, 0.2}, {{1.0, 1.0, plenty}}}).empty());
}

TEST_CASE("the cheaper kind of sheet is taken as far as there is stock of it") {
  const std::vector<Load> loads{{0, {{0, 4}}}, {1, {{0, 2}}}};
  const Demand demand{{8}, {0.2}, {{1.0, 3.0, plenty}, {0.5, 1.0, 3}}};
  const std::vector<Taken> cover = recombined(loads, demand);
  double cost = 0.0;
  int small = 0;
  for (const Taken& taken : cover) {
    cost += demand.sheets[loads[taken.load].stock].cost;
    small += loads[taken.load].stock == 1 ? 1 : 0;
  }
  CHECK(covered(cover, 0) == 8);
  CHECK(small <= 3);
  CHECK(cost == 6.0);  // three small ones hold six, the last two need a large one: 3 + 3
}

TEST_CASE("an order of many copies is no looser than its first filling, and the same for any threads") {
  Order order{{}, {sheet(240, 180)}, 2.0, 2.0};
  for (unsigned k = 0; k < 5; ++k) {
    order.pieces.push_back(piece("p" + std::to_string(k), random_outline(700 + k, 8, false), 8));
    order.pieces.back().rotations.angles_deg = {0, 90, 180, 270};
  }
  const Layout first = nest(order, effort(0));
  Effort more = effort(400);
  const Layout layout = nest(order, more);
  require_whole(order, layout);
  CHECK(layout.sheets.size() < first.sheets.size());
  more.threads = 3;
  const Layout again = nest(order, more);
  REQUIRE(again.placements.size() == layout.placements.size());
  for (std::size_t i = 0; i < layout.placements.size(); ++i) {
    CHECK(again.placements[i].move == layout.placements[i].move);
    CHECK(again.placements[i].sheet == layout.placements[i].sheet);
  }
}

TEST_CASE("what found no place at first is placed by the search where stock is limited") {
  Stock one = sheet(330, 260);
  one.count = 1;
  Order order{{}, {one}, 2.0, 2.0};
  for (unsigned k = 0; k < 4; ++k) {
    order.pieces.push_back(piece("p" + std::to_string(k), random_outline(900 + k, 8, false), 4));
    order.pieces.back().rotations.angles_deg = {0, 90, 180, 270};
  }
  const Layout first = nest(order, effort(0));
  const Layout layout = nest(order, effort(1000));
  require_sound(order, layout);
  CHECK(layout.placements.size() > first.placements.size());
}
