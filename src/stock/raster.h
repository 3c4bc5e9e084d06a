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

/// Cells across a sheet, one bit each; cell 0 is the lowest bit.
__extension__ typedef unsigned __int128 Row;
inline constexpr int most_cells_across = 128;

/// Cells side by side in one row of a shape.
struct Run {
  int row;
  int from;
  int count;
};

/// By a number of cells side by side, in fours: how many neighbouring rows have so many, at the most.
using Stretches = std::array<std::uint16_t, most_cells_across / 4 + 1>;

/// A shape in one position of its turning.
struct Mask {
  int length;              ///< rows, along the sheet
  int width;               ///< cells across
  std::vector<Run> runs;   ///< the longest ones first: they decide soonest that a place is taken
  std::vector<int> needs;  ///< cells side by side, at least, by row
  Stretches stretches{};   ///< of the needs
  double angle_deg = 0.0;  ///< how the shape was turned
  bool flipped = false;    ///< after it was mirrored left to right
  outline::Point origin;   ///< corner of row 0, cell 0 in the turned shape's coordinates
};

struct Silhouette {
  std::vector<Mask> turns;
  std::vector<std::size_t> shortest_first;  ///< turns by their length: a spot near the start is found soon
  int cells;                                ///< in the position with fewest
};

/// The shape turned in `angles` equal steps from its smallest box, mirrored too if it may be turned over.
Silhouette silhouette(const outline::Polygon& shape, double cell_mm, double spacing_mm, int angles,
                      bool may_flip);

/// A rectangle to cut from, its rows along the length.
class Grid {
 public:
  /// \pre 0 < width <= most_cells_across
  Grid(int length, int width);

  struct Spot {
    std::size_t turn;
    int row;
    int cell;
    int end;  ///< first row behind it
  };
  /// The spot that ends nearest to the start of the sheet, then the lowest. `least_end`: no spot that ends
  /// before it is free, for a grid that only fills has none where it had none before.
  std::optional<Spot> find(const Silhouette& shape, int least_end = 0);
  void put(const Mask& mask, const Spot& spot);

  [[nodiscard]] int length() const { return static_cast<int>(rows_.size()); }
  [[nodiscard]] int width() const { return width_; }
  /// First row behind everything that was put.
  [[nodiscard]] int used() const { return used_; }
  [[nodiscard]] int free_cells() const { return free_; }

 private:
  struct Try {
    int cell;      ///< most_cells_across if the mask does not fit at this row
    int next_row;  ///< that may fit if this one does not
  };
  [[nodiscard]] Try try_row(const Mask& mask, int row, Row out_of_reach) const;
  [[nodiscard]] int row_past_gaps(const Mask& mask, int row) const;
  /// Bit y: whether any of the cells y .. y+count-1 is taken. \pre 0 < count <= most_cells_across
  [[nodiscard]] Row spread(std::size_t row, int count) const;
  void describe_changed_rows();
  void describe(std::size_t row);

  std::vector<Row> rows_;  ///< cells that are taken
  int width_;
  int used_ = 0;
  int free_;

  // What follows from the rows, worked out when a spot is looked for: most sheets are filled from known
  // answers.
  static constexpr int doublings = 8;
  /// For each row and 2^i: bit y is set where any of the cells y .. y+2^i-1 is taken.
  std::vector<std::array<Row, doublings>> spreads_;
  std::vector<int> widest_gap_;  ///< free cells side by side, by row
  std::size_t changed_from_ = 0;
  std::size_t changed_to_;
};

/// Grid for a rectangle less its edge margin, in cells of `cell_mm`.
Grid grid_for(double length_mm, double width_mm, double cell_mm, double spacing_mm, double margin_mm);

}  // namespace warmsheet::stock
