// SPDX-License-Identifier: MIT
// The grid's search against a plain one that looks at every cell of every place.
#include "stock/raster.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <vector>

#include "library/library.h"
#include "nesting/random.h"
#include "stock/usage.h"
#include "support.h"

using namespace warmsheet;
using namespace warmsheet::stock;
using testing::rectangle_shape;

namespace {

class PlainGrid {
 public:
  PlainGrid(int length, int width)
      : width_(width),
        taken_(static_cast<std::size_t>(length), std::vector<bool>(static_cast<std::size_t>(width))) {}

  /// The earliest end, then the first turn, then the lowest cell.
  [[nodiscard]] std::optional<Grid::Spot> find(const Silhouette& shape) const {
    std::optional<Grid::Spot> best;
    for (std::size_t turn = 0; turn < shape.turns.size(); ++turn) {
      const Mask& mask = shape.turns[turn];
      for (int row = 0; row + mask.length <= static_cast<int>(taken_.size()); ++row)
        for (int cell = 0; cell + mask.width <= width_; ++cell) {
          if (best && row + mask.length >= best->end) continue;
          if (fits(mask, row, cell)) best = Grid::Spot{turn, row, cell, row + mask.length};
        }
    }
    return best;
  }

  void put(const Mask& mask, const Grid::Spot& spot) {
    visit(mask, spot.row, spot.cell, [&](std::size_t row, std::size_t cell) { taken_[row][cell] = true; });
  }

 private:
  template <class Visit>
  static void visit(const Mask& mask, int row, int cell, Visit visit) {
    for (const Run& run : mask.runs)
      for (int i = 0; i < run.count; ++i)
        visit(static_cast<std::size_t>(row + run.row), static_cast<std::size_t>(cell + run.from + i));
  }
  [[nodiscard]] bool fits(const Mask& mask, int row, int cell) const {
    bool free = true;
    visit(mask, row, cell, [&](std::size_t r, std::size_t c) { free = free && !taken_[r][c]; });
    return free;
  }

  int width_;
  std::vector<std::vector<bool>> taken_;
};

/// A star around the origin: anything from a spike to a blob, with bays that others fit in.
outline::Polygon star(nesting::Random& random) {
  outline::Ring ring;
  constexpr int corners = 9;
  for (int i = 0; i < corners; ++i) {
    const double radius = random.between(15.0, 110.0);
    const double angle = 2.0 * 3.14159265358979 * i / corners;
    ring.push_back({radius * std::cos(angle), radius * std::sin(angle)});
  }
  return outline::Polygon::make(std::move(ring), {}, {});
}

}  // namespace

TEST_CASE("the grid finds the spots that looking at every cell finds, until nothing fits") {
  CHECK(rc::check([] {
    nesting::Random random(*rc::gen::arbitrary<std::uint64_t>());
    const int length = *rc::gen::inRange(10, 70);
    const int width = *rc::gen::inRange(8, 129);
    const double cell = 5.0;
    std::vector<Silhouette> shapes;
    for (int i = 0; i < 3; ++i) shapes.push_back(silhouette(star(random), cell, 3.0, 5, i == 0));
    Grid grid(length, width);
    PlainGrid plain(length, width);
    std::vector<int> least_end(shapes.size(), 0);
    for (int turn = 0; turn < 30; ++turn) {
      const std::size_t s = random.below(shapes.size());
      const auto expected = plain.find(shapes[s]);
      const auto found = grid.find(shapes[s], least_end[s]);
      RC_ASSERT(found.has_value() == expected.has_value());
      if (!found) continue;
      RC_ASSERT(found->turn == expected->turn);
      RC_ASSERT(found->row == expected->row);
      RC_ASSERT(found->cell == expected->cell);
      least_end[s] = found->end;
      grid.put(shapes[s].turns[found->turn], *found);
      plain.put(shapes[s].turns[found->turn], *found);
    }
  }));
}

TEST_CASE("a sixty-fifth size of a kind is not taken for the first of the next kind") {
  // By hand: of 300 x 250 one fits a sheet of 600 x 450, and 100 x 100 fits beside it. What is known of the
  // first kind's last size must not answer for the second kind.
  const auto size = [](double length, double width, double share) {
    return PieceSize{.share = share,
                     .shape = rectangle_shape(length, width),
                     .area_mm2 = length * width,
                     .edge_mm = 0.0,
                     .boxes = turned_boxes(rectangle_shape(length, width)),
                     .straps = {}};
  };
  const Figure area =
      Figure::stated("area", Range::exactly(0.01), units::square_centimetre(), {.basis = Basis::demo});
  std::vector<PieceSize> many(64, size(20, 20, 0.0));
  many.push_back(size(350, 300, 1.0));
  const std::vector<KindPieces> kinds{{many, area}, {{size(100, 100, 1.0)}, area}};
  CuttingRules rules;
  rules.method = Method::batched;
  rules.spacing_mm = 3.0;
  rules.margin_mm = 3.0;
  rules.most_offcuts = 0;
  const CuttingBench bench({600, 450}, rules, kinds, {1.0, 1.0});
  SpotCache cache;
  const Usage use = bench.cut({{0.5, 0, 64}, {0.6, 0, 64}, {1.5, 0, 64}, {1.6, 1, 0}}, 2, {}, {}, cache);
  CHECK(use.months[0].sheets == 2);
  CHECK(use.months[1].sheets == 1);
}
