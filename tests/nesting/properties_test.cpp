// SPDX-License-Identifier: MIT
// What must hold of any layout, whatever the outlines. A search that is no proof may find less for an easier
// order; so what is demanded of it is what it can keep: begun from a layout of the harder order it is never
// worse, and its bounds keep the order of the problems.
#include <algorithm>
#include <array>
#include <numeric>
#include <optional>

#include "nesting/bounds.h"
#include "nesting/soundness.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::nesting;
using namespace warmsheet::testing;

namespace {

Order random_order(unsigned seed, int copies, double spacing_mm) {
  Order order{{}, {sheet(260, 200)}, spacing_mm, 2.0};
  for (unsigned k = 0; k < 3; ++k) {
    order.pieces.push_back(piece("p" + std::to_string(k), random_outline(100 * seed + k, 8, k == 0), copies));
    order.pieces.back().rotations.free = k == 1;
  }
  return order;
}

double last_length(const Layout& layout) {
  return layout.sheets.back().used_length_mm;
}

bool no_worse(const Layout& layout, const Layout& than) {
  return layout.sheets.size() < than.sheets.size() ||
         (layout.sheets.size() == than.sheets.size() && last_length(layout) <= last_length(than) + 1e-6);
}

Layout begun_from(const Order& order, const Layout& start, int passes) {
  Effort e = effort(passes);
  e.start = &start;
  return nest(order, e);
}

}  // namespace

TEST_CASE(
    "a copy fewer never takes more sheets, begun from the larger order's layout, and never a higher bound") {
  for (unsigned seed = 1; seed <= 4; ++seed) {
    CAPTURE(seed);
    const Order larger = random_order(seed, 3, 2.0);
    const Layout whole = nest(larger, effort(60));
    Order smaller = larger;
    smaller.pieces[0].copies = 2;
    Layout less = whole;
    std::erase_if(less.placements, [](const Placement& p) { return p.piece == 0 && p.copy == 2; });
    require_whole(smaller, less);
    const Layout found = begun_from(smaller, less, 20);
    CHECK(found.sheets.size() <= whole.sheets.size());
    CHECK(found.bound <= whole.bound);
    require_whole(smaller, found);
  }
}

TEST_CASE("less spacing never makes a layout longer, begun from the wider one, and never raises the bound") {
  for (unsigned seed = 5; seed <= 8; ++seed) {
    CAPTURE(seed);
    const Order wide = random_order(seed, 2, 6.0);
    const Order narrow = random_order(seed, 2, 1.0);
    const Layout apart = nest(wide, effort(60));
    const Layout close = begun_from(narrow, apart, 20);
    CHECK(no_worse(close, apart));
    CHECK(close.bound <= apart.bound);
    require_whole(narrow, close);
  }
}

TEST_CASE("alone, the search keeps close to both orders of difficulty") {
  // Heuristic allowance: one sheet. A search that gets lost would miss by more.
  for (unsigned seed = 9; seed <= 12; ++seed) {
    CAPTURE(seed);
    std::size_t before = 0;
    for (const int copies : {1, 2, 3, 4}) {
      const Layout layout = nest(random_order(seed, copies, 2.0), effort(100));
      CHECK(layout.sheets.size() + 1 >= before);
      before = layout.sheets.size();
    }
    const Layout close = nest(random_order(seed, 3, 0.5), effort(100));
    const Layout apart = nest(random_order(seed, 3, 8.0), effort(100));
    CHECK(close.sheets.size() <= apart.sheets.size());
  }
}

TEST_CASE("the whole input turned by a quarter with its sheets changes neither sheets nor bound nor area") {
  for (unsigned seed = 13; seed <= 16; ++seed) {
    CAPTURE(seed);
    Order upright = random_order(seed, 2, 2.0);
    for (Piece& p : upright.pieces) p.rotations = {.free = false, .angles_deg = {0, 90, 180, 270}};
    Order quarter = upright;
    quarter.stock = {sheet(200, 260)};
    for (Piece& p : quarter.pieces) p.shape = p.shape.placed(90.0, {});
    const Layout a = nest(upright, effort(200));
    const Layout b = nest(quarter, effort(200));
    CHECK(a.sheets.size() == b.sheets.size());
    CHECK(a.bound == b.bound);
    double area_a = 0.0;
    double area_b = 0.0;
    for (const UsedSheet& s : a.sheets) area_a += s.used_area_mm2;
    for (const UsedSheet& s : b.sheets) area_b += s.used_area_mm2;
    CHECK(near_rel(area_a, area_b, 1e-9));
    // And a layout turned with its input is a layout of the turned order.
    Layout turned = a;
    for (Placement& p : turned.placements) p.move = {200.0 - p.move.y_mm, p.move.x_mm};
    require_whole(quarter, turned);
  }
}

namespace {

/// All layouts of a few rectangles in which every one touches the strip's corner lines or another's edges:
/// among them is a shortest (left-bottom justified layouts, Chazelle 1983; by exhaustion).
class BruteForce {
 public:
  BruteForce(std::vector<std::array<double, 2>> sides, double height)
      : sides_(std::move(sides)), height_(height) {}

  double shortest() {
    place(0, 0.0);
    return best_;
  }

 private:
  struct Box {
    double x, y, w, h;
  };

  void place(unsigned used, double length) {
    if (length >= best_) return;
    if (laid_.size() == sides_.size()) {
      best_ = length;
      return;
    }
    for (std::size_t i = 0; i < sides_.size(); ++i) {
      if ((used >> i & 1U) != 0) continue;
      lay(used | 1U << i, length, sides_[i][0], sides_[i][1]);
      if (sides_[i][0] != sides_[i][1]) lay(used | 1U << i, length, sides_[i][1], sides_[i][0]);
    }
  }

  void lay(unsigned used, double length, double w, double h) {
    std::vector<double> xs{0.0};
    std::vector<double> ys{0.0};
    for (const Box& b : laid_) {
      xs.push_back(b.x + b.w);
      ys.push_back(b.y + b.h);
    }
    for (const double x : xs) {
      for (const double y : ys) {
        const Box box{x, y, w, h};
        if (y + h > height_ ||
            std::any_of(laid_.begin(), laid_.end(), [&](const Box& b) { return meet(box, b); }))
          continue;
        laid_.push_back(box);
        place(used, std::max(length, x + w));
        laid_.pop_back();
      }
    }
  }

  static bool meet(const Box& a, const Box& b) {
    return a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
  }

  std::vector<std::array<double, 2>> sides_;
  double height_;
  std::vector<Box> laid_;
  double best_ = 1e9;
};

}  // namespace

TEST_CASE("tiny orders of rectangles are as short as brute force makes them") {
  // Whole tens of millimetres, so that many layouts tie exactly.
  for (unsigned seed = 1; seed <= 10; ++seed) {
    CAPTURE(seed);
    Order order{{}, {sheet(1000, 200)}, 0.0, 0.0};
    std::vector<std::array<double, 2>> sides;
    unsigned state = 7919U * seed;
    const auto draw = [&] { return 30.0 + 10.0 * ((state = state * 1103515245U + 12345U) >> 16 & 7U); };
    for (int k = 0; k < 4; ++k) {
      const double w = draw();
      const double h = draw();
      sides.push_back({w, h});
      order.pieces.push_back(piece("r" + std::to_string(k), rectangle(w, h)));
      order.pieces.back().rotations.angles_deg = {0, 90};
    }
    const Layout layout = nest(order, effort(400));
    REQUIRE(layout.sheets.size() == 1);
    const double shortest = BruteForce(sides, 200.0).shortest();
    CHECK(last_length(layout) >= shortest - 1e-6);
    CHECK(near_abs(last_length(layout), shortest, 1e-6));
    CHECK(layout.shortest_mm <= shortest + 1e-6);
  }
}

TEST_CASE("a small piece lies in another's opening where that makes the layout shorter") {
  const outline::Polygon frame =
      polygon({{0, 0}, {200, 0}, {200, 200}, {0, 200}}, {{{50, 50}, {50, 150}, {150, 150}, {150, 50}}});
  const Order order{
      {piece("frame", frame, 2), piece("thumb", rectangle(90, 90), 2)}, {sheet(900, 200)}, 2.0, 0.0};
  const Layout layout = nest(order, effort(300));
  require_whole(order, layout);
  CHECK(near_abs(last_length(layout), 402.0, 1e-6));  // two frames and a gap; a thumb beside them adds 92
}

TEST_CASE("small pieces in openings save a sheet") {
  const outline::Polygon frame =
      polygon({{0, 0}, {200, 0}, {200, 200}, {0, 200}}, {{{50, 50}, {50, 150}, {150, 150}, {150, 50}}});
  const Order order{
      {piece("frame", frame, 3), piece("thumb", rectangle(90, 90), 3)}, {sheet(206, 206)}, 3.0, 3.0};
  const Layout layout = nest(order, effort(300));
  require_whole(order, layout);
  CHECK(layout.sheets.size() == 3);
}
