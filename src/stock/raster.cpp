// SPDX-License-Identifier: MIT
#include "stock/raster.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numeric>

#include "stock/turned_boxes.h"

namespace warmsheet::stock {
namespace {

using outline::Point;

constexpr int word_bits = 64;

Row lowest(int count) {
  return count >= most_cells_across ? ~Row{0} : (Row{1} << count) - 1;
}

int first_free(Row taken) {
  const auto low = static_cast<std::uint64_t>(~taken);
  if (low != 0) return std::countr_zero(low);
  const auto high = static_cast<std::uint64_t>(~taken >> word_bits);
  return word_bits + std::countr_zero(high);
}

constexpr int cells_a_step = 4;

Stretches stretches_of(const std::vector<int>& cells) {
  struct Open {
    std::size_t from;
    int cells;
  };
  Stretches longest{};
  std::vector<Open> open;  // stretches that have not ended, of ever more cells
  open.reserve(cells.size() + 1);
  for (std::size_t row = 0; row <= cells.size(); ++row) {
    const int here = row < cells.size() ? cells[row] / cells_a_step : 0;
    std::size_t from = row;
    while (!open.empty() && open.back().cells >= here) {
      from = open.back().from;
      auto& length = longest[static_cast<std::size_t>(open.back().cells)];
      length = std::max(length, static_cast<std::uint16_t>(row - from));
      open.pop_back();
    }
    open.push_back({from, here});
  }
  for (std::size_t c = longest.size() - 1; c-- > 0;) longest[c] = std::max(longest[c], longest[c + 1]);
  return longest;
}

bool exceeds(const Stretches& a, const Stretches& b) {
  unsigned any = 0;  // counted to the end: without a way out the loop is a few vector instructions
  for (std::size_t c = 0; c < a.size(); ++c) any |= a[c] > b[c] ? 1U : 0U;
  return any != 0;
}

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
        set_(at(length_, 0), false) {
    fill_inside(shape);
    draw_edges(shape.outer());
    for (const outline::Ring& hole : shape.holes()) draw_edges(hole);
  }

  [[nodiscard]] Mask mask() const {
    Mask mask{.length = length_,
              .width = width_,
              .runs = {},
              .needs = std::vector<int>(static_cast<std::size_t>(length_), 0),
              .origin = origin_};
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
    mask.runs = in_strides(mask.runs);
    for (const Run& run : mask.runs) {
      int& need = mask.needs[static_cast<std::size_t>(run.row)];
      need = std::max(need, run.count);
    }
    mask.stretches = stretches_of(mask.needs);
    return mask;
  }

 private:
  /// Every eighth, then those half way between, and so on: neighbours say the same about a place.
  static std::vector<Run> in_strides(const std::vector<Run>& runs) {
    std::vector<Run> ordered;
    std::vector<bool> done(runs.size(), false);
    for (const std::size_t stride : {8U, 4U, 2U, 1U})
      for (std::size_t i = 0; i < runs.size(); i += stride) {
        if (!done[i]) ordered.push_back(runs[i]);
        done[i] = true;
      }
    return ordered;
  }

  [[nodiscard]] int count(double mm) const {
    return std::max(1, static_cast<int>(std::ceil(mm / cell_ - 1e-9)));
  }
  [[nodiscard]] std::size_t at(int row, int cell) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(width_) + static_cast<std::size_t>(cell);
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

std::size_t row_at(int first, int further) {
  return static_cast<std::size_t>(first) + static_cast<std::size_t>(further);
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
  Silhouette made{{}, {}, std::numeric_limits<int>::max()};
  for (int side = 0; side < (may_flip ? 2 : 1); ++side) {
    const outline::Polygon face = side == 0 ? shape : shape.mirrored();
    for (int i = 0; i < angles; ++i) {
      const double angle = (side == 0 ? start : -start) + 360.0 * i / angles;
      Mask mask = Cells(face.placed(angle, {}), cell_mm, 0.5 * spacing_mm).mask();
      mask.angle_deg = angle;
      mask.flipped = side == 1;
      if (mask.width > most_cells_across) continue;
      made.cells = std::min(made.cells, cells_of(mask));
      made.turns.push_back(std::move(mask));
    }
  }
  made.shortest_first.resize(made.turns.size());
  std::iota(made.shortest_first.begin(), made.shortest_first.end(), std::size_t{0});
  std::stable_sort(made.shortest_first.begin(), made.shortest_first.end(),
                   [&](std::size_t a, std::size_t b) { return made.turns[a].length < made.turns[b].length; });
  return made;
}

Grid::Grid(int length, int width)
    : rows_(static_cast<std::size_t>(std::max(0, length))),
      width_(width),
      free_(length * width),
      changed_to_(rows_.size()) {}

Row Grid::spread(std::size_t row, int count) const {
  const unsigned half = std::bit_floor(static_cast<unsigned>(count));
  const Row taken = spreads_[row][static_cast<std::size_t>(std::countr_zero(half))];
  return taken | taken >> (count - static_cast<int>(half));
}

void Grid::describe_changed_rows() {
  spreads_.resize(rows_.size());
  widest_gap_.resize(rows_.size());
  for (std::size_t row = changed_from_; row < changed_to_; ++row) describe(row);
  changed_from_ = rows_.size();
  changed_to_ = 0;
}

void Grid::describe(std::size_t row) {
  auto& taken = spreads_[row];
  taken[0] = rows_[row];
  widest_gap_[row] = width_;
  if (taken[0] == 0) return;
  for (std::size_t i = 1; i < doublings; ++i) taken[i] = taken[i - 1] | taken[i - 1] >> (1 << (i - 1));
  // Bit y of `starts`: a gap of `gap` cells starts at y. Longer ones are tried by halves.
  Row starts = lowest(width_);
  int gap = 0;
  for (std::size_t i = doublings; i-- > 0;) {
    const int longer = gap + (1 << i);
    if (longer > width_) continue;
    const Row left = starts & ~(taken[i] >> gap) & lowest(width_ - longer + 1);
    if (left == 0) continue;
    starts = left;
    gap = longer;
  }
  widest_gap_[row] = gap;
}

/// \pre some row of the mask needs more than the gap it comes to lie on
int Grid::row_past_gaps(const Mask& mask, int row) const {
  const auto gap_at = [&](int r) { return widest_gap_[row_at(row, r)]; };
  const auto need = [&](int r) { return mask.needs[static_cast<std::size_t>(r)]; };
  int last = mask.length - 1;
  while (gap_at(last) >= need(last)) --last;
  // Nor do those rows fit there that come to lie on the same gap when the mask is moved on.
  int first = last;
  while (first > 0 && need(first - 1) > gap_at(last)) --first;
  return row + last - first + 1;
}

Grid::Try Grid::try_row(const Mask& mask, int row, Row out_of_reach) const {
  Row taken = out_of_reach;
  for (const Run& run : mask.runs) {
    const std::size_t at = row_at(row, run.row);
    if (widest_gap_[at] < run.count) return {most_cells_across, row_past_gaps(mask, row)};
    taken |= spread(at, run.count) >> run.from;
    if (~taken == 0) return {most_cells_across, row + 1};
  }
  return {first_free(taken), row + 1};
}

std::optional<Grid::Spot> Grid::find(const Silhouette& shape, int least_end) {
  if (shape.cells > free_) return std::nullopt;
  describe_changed_rows();
  const Stretches room = stretches_of(widest_gap_);
  std::optional<Spot> best;
  for (const std::size_t turn : shape.shortest_first) {
    const Mask& mask = shape.turns[turn];
    if (mask.width > width_ || exceeds(mask.stretches, room)) continue;
    const Row out_of_reach = ~lowest(width_ - mask.width + 1);
    const int last_end = !best ? length() : turn < best->turn ? best->end : best->end - 1;
    const int last = last_end - mask.length;
    for (int row = std::max(0, least_end - mask.length); row <= last;) {
      const Try found = try_row(mask, row, out_of_reach);
      if (found.cell < most_cells_across) {
        best = Spot{turn, row, found.cell, row + mask.length};
        break;
      }
      row = found.next_row;
    }
  }
  return best;
}

void Grid::put(const Mask& mask, const Spot& spot) {
  for (const Run& run : mask.runs) {
    rows_[row_at(spot.row, run.row)] |= lowest(run.count) << (spot.cell + run.from);
    free_ -= run.count;
  }
  used_ = std::max(used_, spot.end);
  changed_from_ = std::min(changed_from_, static_cast<std::size_t>(spot.row));
  changed_to_ = std::max(changed_to_, static_cast<std::size_t>(spot.end));
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
