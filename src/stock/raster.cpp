// SPDX-License-Identifier: MIT
#include "stock/raster.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>

#include "stock/turned_boxes.h"

namespace warmsheet::stock {
namespace {

using outline::Point;

Row operator|(const Row& a, const Row& b) {
  return {a.low | b.low, a.high | b.high};
}

constexpr int word_bits = 64;

/// Bits moved towards cell 0.
Row down(const Row& row, int by) {
  if (by == 0) return row;
  if (by >= word_bits) return {row.high >> (by - word_bits), 0};
  return {(row.low >> by) | (row.high << (word_bits - by)), row.high >> by};
}

Row up(const Row& row, int by) {
  if (by == 0) return row;
  if (by >= word_bits) return {0, row.low << (by - word_bits)};
  return {row.low << by, (row.high << by) | (row.low >> (word_bits - by))};
}

Row lowest(int count) {
  if (count >= Row::most_cells) return {~0ULL, ~0ULL};
  if (count >= word_bits) return {~0ULL, (1ULL << (count - word_bits)) - 1};
  return {(1ULL << count) - 1, 0};
}

/// Bit y is set where any of the cells y .. y+count-1 is set: doubling, so log2(count) steps.
Row spread_down(Row row, int count) {
  int covered = 1;
  while (2 * covered <= count) {
    row = row | down(row, covered);
    covered *= 2;
  }
  return row | down(row, count - covered);
}

int first_free(const Row& taken) {
  if (~taken.low != 0) return std::countr_zero(~taken.low);
  if (~taken.high != 0) return word_bits + std::countr_zero(~taken.high);
  return Row::most_cells;
}

/// Free cells side by side, of `width`: each step takes one cell off every gap.
int widest_gap(const Row& taken, int width) {
  const Row all = lowest(width);
  Row free{all.low & ~taken.low, all.high & ~taken.high};
  int gap = 0;
  for (; (free.low | free.high) != 0; ++gap) {
    const Row moved = down(free, 1);
    free = {free.low & moved.low, free.high & moved.high};
  }
  return gap;
}

int bits(const Row& row) {
  return std::popcount(row.low) + std::popcount(row.high);
}

// --- shapes to cells
// ------------------------------------------------------------------------------------------

double squared(double x) {
  return x * x;
}

double point_to_segment2(const Point& p, const Point& a, const Point& b) {
  const double dx = b.x_mm - a.x_mm;
  const double dy = b.y_mm - a.y_mm;
  const double length2 = dx * dx + dy * dy;
  const double along = length2 > 0.0 ? ((p.x_mm - a.x_mm) * dx + (p.y_mm - a.y_mm) * dy) / length2 : 0.0;
  const double t = std::clamp(along, 0.0, 1.0);
  return squared(p.x_mm - a.x_mm - t * dx) + squared(p.y_mm - a.y_mm - t * dy);
}

struct Square {
  double x;  // low corner
  double y;
  double side;
};

double point_to_square2(const Point& p, const Square& s) {
  return squared(std::max({s.x - p.x_mm, 0.0, p.x_mm - s.x - s.side})) +
         squared(std::max({s.y - p.y_mm, 0.0, p.y_mm - s.y - s.side}));
}

/// Liang and Barsky's clipping: does the segment enter the square?
bool crosses(const Point& a, const Point& b, const Square& s) {
  double enter = 0.0;
  double leave = 1.0;
  const auto clip = [&](double from, double delta, double low, double high) {
    if (delta == 0.0) return from >= low && from <= high;
    const double t0 = (low - from) / delta;
    const double t1 = (high - from) / delta;
    enter = std::max(enter, std::min(t0, t1));
    leave = std::min(leave, std::max(t0, t1));
    return enter <= leave;
  };
  return clip(a.x_mm, b.x_mm - a.x_mm, s.x, s.x + s.side) && clip(a.y_mm, b.y_mm - a.y_mm, s.y, s.y + s.side);
}

bool within(const Point& a, const Point& b, const Square& s, double reach) {
  const double reach2 = reach * reach;
  if (point_to_square2(a, s) <= reach2 || point_to_square2(b, s) <= reach2) return true;
  for (const double x : {s.x, s.x + s.side})
    for (const double y : {s.y, s.y + s.side})
      if (point_to_segment2({x, y}, a, b) <= reach2) return true;
  return crosses(a, b, s);
}

/// Cells of a shape, row by row.
class Cells {
 public:
  Cells(const outline::Polygon& shape, double cell_mm, double reach_mm)
      : origin_{shape.box().low.x_mm - reach_mm, shape.box().low.y_mm - reach_mm},
        cell_(cell_mm),
        reach_(reach_mm),
        length_(count(shape.box().width_mm() + 2.0 * reach_mm)),
        width_(count(shape.box().height_mm() + 2.0 * reach_mm)),
        set_(static_cast<std::size_t>(length_ * width_), false) {
    fill_inside(shape);
    draw_edges(shape.outer());
    for (const outline::Ring& hole : shape.holes()) draw_edges(hole);
  }

  [[nodiscard]] Mask mask() const {
    Mask mask{.length = length_, .width = width_, .runs = {}, .origin = origin_};
    for (int row = 0; row < length_; ++row)
      for (int cell = 0; cell < width_; ++cell) {
        if (!is_set(row, cell)) continue;
        if (cell > 0 && is_set(row, cell - 1))
          ++mask.runs.back().count;
        else
          mask.runs.push_back({row, cell, 1});
      }
    std::stable_sort(mask.runs.begin(), mask.runs.end(),
                     [](const Run& a, const Run& b) { return a.count > b.count; });
    return mask;
  }

 private:
  [[nodiscard]] int count(double mm) const {
    return std::max(1, static_cast<int>(std::ceil(mm / cell_ - 1e-9)));
  }
  [[nodiscard]] std::size_t at(int row, int cell) const {
    return static_cast<std::size_t>(row * width_ + cell);
  }
  [[nodiscard]] bool is_set(int row, int cell) const { return set_[at(row, cell)]; }
  [[nodiscard]] int row_of(double x, int most) const {
    return std::clamp(static_cast<int>(std::floor(x / cell_)), 0, most - 1);
  }

  /// Even-odd rule along the middle line of each row of cells. Cells it misses are touched by an edge.
  void fill_inside(const outline::Polygon& shape) {
    for (int row = 0; row < length_; ++row) {
      const double x = origin_.x_mm + (row + 0.5) * cell_;
      std::vector<double> crossings;
      add_crossings(shape.outer(), x, crossings);
      for (const outline::Ring& hole : shape.holes()) add_crossings(hole, x, crossings);
      std::sort(crossings.begin(), crossings.end());
      for (std::size_t i = 0; i + 1 < crossings.size(); i += 2)
        for (int cell = 0; cell < width_; ++cell) {
          const double y = origin_.y_mm + (cell + 0.5) * cell_;
          if (y > crossings[i] && y < crossings[i + 1]) set_[at(row, cell)] = true;
        }
    }
  }

  static void add_crossings(const outline::Ring& ring, double x, std::vector<double>& crossings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Point& a = ring[i];
      const Point& b = ring[(i + 1) % ring.size()];
      if ((a.x_mm > x) == (b.x_mm > x)) continue;
      crossings.push_back(a.y_mm + (x - a.x_mm) / (b.x_mm - a.x_mm) * (b.y_mm - a.y_mm));
    }
  }

  void draw_edges(const outline::Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) draw_edge(ring[i], ring[(i + 1) % ring.size()]);
  }

  void draw_edge(const Point& a, const Point& b) {
    const auto [low_x, high_x] = std::minmax({a.x_mm - origin_.x_mm, b.x_mm - origin_.x_mm});
    const auto [low_y, high_y] = std::minmax({a.y_mm - origin_.y_mm, b.y_mm - origin_.y_mm});
    for (int row = row_of(low_x - reach_, length_); row <= row_of(high_x + reach_, length_); ++row)
      for (int cell = row_of(low_y - reach_, width_); cell <= row_of(high_y + reach_, width_); ++cell) {
        if (is_set(row, cell)) continue;
        const Square square{origin_.x_mm + row * cell_, origin_.y_mm + cell * cell_, cell_};
        if (within(a, b, square, reach_)) set_[at(row, cell)] = true;
      }
  }

  Point origin_;
  double cell_;
  double reach_;
  int length_;
  int width_;
  std::vector<bool> set_;
};

double angle_of_smallest_box(const outline::Polygon& shape) {
  constexpr int steps = 90;
  double best = 0.0;
  double least = std::numeric_limits<double>::infinity();
  for (int degree = 0; degree < steps; ++degree) {
    const outline::Box box = shape.placed(degree, {}).box();
    if (const double area = box.width_mm() * box.height_mm(); area < least) least = area, best = degree;
  }
  return best;
}

int cells_of(const Mask& mask) {
  int cells = 0;
  for (const Run& run : mask.runs) cells += run.count;
  return cells;
}

}  // namespace

Silhouette silhouette(const outline::Polygon& shape, double cell_mm, double spacing_mm, int angles,
                      bool may_flip) {
  const double start = angle_of_smallest_box(shape);
  Silhouette made{{}, std::numeric_limits<int>::max()};
  for (int side = 0; side < (may_flip ? 2 : 1); ++side) {
    const outline::Polygon face = side == 0 ? shape : shape.mirrored();
    for (int i = 0; i < angles; ++i) {
      const double angle = (side == 0 ? start : -start) + 360.0 * i / angles;
      Mask mask = Cells(face.placed(angle, {}), cell_mm, 0.5 * spacing_mm).mask();
      mask.angle_deg = angle;
      mask.flipped = side == 1;
      if (mask.width > Row::most_cells) continue;
      made.cells = std::min(made.cells, cells_of(mask));
      made.turns.push_back(std::move(mask));
    }
  }
  return made;
}

Grid::Grid(int length, int width)
    : rows_(static_cast<std::size_t>(std::max(0, length))),
      widest_gap_(rows_.size(), width),
      width_(width),
      free_(length * width) {}

Row Grid::taken(const Mask& mask, int row, const Row& out_of_reach) const {
  Row taken = out_of_reach;
  for (const Run& run : mask.runs) {
    const auto at = static_cast<std::size_t>(row + run.row);
    if (widest_gap_[at] < run.count) return lowest(Row::most_cells);
    const Row& cells = rows_[at];
    if ((cells.low | cells.high) == 0) continue;
    taken = taken | down(spread_down(cells, run.count), run.from);
    if (first_free(taken) == Row::most_cells) break;
  }
  return taken;
}

std::optional<Grid::Spot> Grid::find(const Silhouette& shape) const {
  if (shape.cells > free_) return std::nullopt;
  std::optional<Spot> best;
  for (std::size_t turn = 0; turn < shape.turns.size(); ++turn) {
    const Mask& mask = shape.turns[turn];
    if (mask.width > width_) continue;
    const Row fits = lowest(width_ - mask.width + 1);
    const Row out_of_reach{~fits.low, ~fits.high};
    const int last = (best ? std::min(best->end - 1, length()) : length()) - mask.length;
    for (int row = 0; row <= last; ++row) {
      const int cell = first_free(taken(mask, row, out_of_reach));
      if (cell == Row::most_cells) continue;
      best = Spot{turn, row, cell, row + mask.length};
      break;
    }
  }
  return best;
}

void Grid::put(const Mask& mask, const Spot& spot) {
  for (const Run& run : mask.runs) {
    Row& row = rows_[static_cast<std::size_t>(spot.row + run.row)];
    const Row added = up(lowest(run.count), spot.cell + run.from);
    row = row | added;
    free_ -= bits(added);
  }
  for (int row = spot.row; row < spot.end; ++row)
    widest_gap_[static_cast<std::size_t>(row)] = widest_gap(rows_[static_cast<std::size_t>(row)], width_);
  used_ = std::max(used_, spot.end);
}

Grid grid_for(double length_mm, double width_mm, double cell_mm, double spacing_mm, double margin_mm) {
  // Half of the spacing around the shapes may lie in the margin.
  const double lost = 2.0 * margin_mm - spacing_mm;
  const auto cells = [&](double mm) {
    return std::max(0, static_cast<int>(std::floor((mm - lost) / cell_mm + 1e-9)));
  };
  return {cells(length_mm), cells(width_mm)};
}

}  // namespace warmsheet::stock
