// SPDX-License-Identifier: MIT
// True shapes as cells of a fine grid, so that thousands of batches can be laid out in the time the nesting
// room takes for one. A cell belongs to a shape if it lies within half the spacing of it, so shapes whose
// cells do not meet are apart by the spacing: every layout is one that can be cut. What is lost is up to a
// cell around each shape, and the few angles and orders tried: months of wrist orthoses nested together take
// up to a sheet more than the nesting room's full search finds (tests/stock/cutting_test.cpp,
// tests/bench/stock_lines.cpp), so that what a month takes errs to more.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "outline/polygon.h"

namespace warmsheet::stock {

/// Cells across a sheet, one bit each.
struct Row {
  std::uint64_t low = 0;
  std::uint64_t high = 0;
  static constexpr int most_cells = 128;
};

/// Cells side by side in one row of a shape.
struct Run {
  int row;
  int from;
  int count;
};

/// A shape in one position of its turning.
struct Mask {
  int length;              ///< rows, along the sheet
  int width;               ///< cells across
  std::vector<Run> runs;   ///< the longest ones first: they decide soonest that a place is taken
  double angle_deg = 0.0;  ///< how the shape was turned
  bool flipped = false;    ///< after it was mirrored left to right
  outline::Point origin;   ///< corner of row 0, cell 0 in the turned shape's coordinates
};

struct Silhouette {
  std::vector<Mask> turns;
  int cells;  ///< in the position with fewest
};

/// The shape turned in `angles` equal steps from its smallest box, mirrored too if it may be turned over.
Silhouette silhouette(const outline::Polygon& shape, double cell_mm, double spacing_mm, int angles,
                      bool may_flip);

/// A rectangle to cut from, its rows along the length.
class Grid {
 public:
  /// \pre 0 < width <= Row::most_cells
  Grid(int length, int width);

  struct Spot {
    std::size_t turn;
    int row;
    int cell;
    int end;  ///< first row behind it
  };
  /// The spot that ends nearest to the start of the sheet, then the lowest.
  [[nodiscard]] std::optional<Spot> find(const Silhouette& shape) const;
  void put(const Mask& mask, const Spot& spot);

  [[nodiscard]] int length() const { return static_cast<int>(rows_.size()); }
  [[nodiscard]] int width() const { return width_; }
  /// First row behind everything that was put.
  [[nodiscard]] int used() const { return used_; }
  [[nodiscard]] int free_cells() const { return free_; }

 private:
  /// Positions across, as bits, where the mask does not fit at this row.
  [[nodiscard]] Row taken(const Mask& mask, int row, const Row& out_of_reach) const;

  std::vector<Row> rows_;
  std::vector<int> widest_gap_;  ///< free cells side by side, by row
  int width_;
  int used_ = 0;
  int free_;
};

/// Grid for a rectangle less its edge margin, in cells of `cell_mm`.
Grid grid_for(double length_mm, double width_mm, double cell_mm, double spacing_mm, double margin_mm);

}  // namespace warmsheet::stock
