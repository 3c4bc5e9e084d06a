// SPDX-License-Identifier: MIT
// Placing outlines on sheets and kept offcuts: true shapes with holes, rotations, spacing, edge margin,
// several sheet sizes. Everything here is plain geometry in millimetres; figures are made by nest_figures.h.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "outline/polygon.h"

namespace warmsheet::nesting {

/// Angles a piece may be turned to, degrees counter-clockwise; `free` means any.
struct Rotations {
  bool free = false;
  std::vector<double> angles_deg{0.0};
};

struct Piece {
  std::string name;
  outline::Polygon shape;
  int copies = 1;
  Rotations rotations;
  bool may_flip = false;
};

/// A kind of sheet, or one kept offcut (count 1). A rectangle is a polygon too.
struct Stock {
  std::string name;
  outline::Polygon shape;
  int count = -1;      ///< how many there are; -1 for as many as needed
  double price = 0.0;  ///< what using one costs; offcuts cost nothing
  bool offcut = false;
};

struct Order {
  std::vector<Piece> pieces;
  std::vector<Stock> stock;
  double spacing_mm = 0.0;  ///< at least this far between pieces
  double margin_mm = 0.0;   ///< at least this far from a sheet's edge
};

/// The budget is in passes, so that every machine gives the same answer; `stop` may end a search early
/// (ctrl-C, a clock), and the best layout so far is returned.
struct Effort {
  std::uint64_t seed = 1;
  int passes = 200;
  int threads = 1;  ///< changes the time, never the answer
  std::function<bool()> stop = {};
  /// For a caller with a clock: the share of its time that is gone, 0 to 1; the search ends at 1 and knows
  /// when to turn from exploring to squeezing. The answer then depends on the machine. Both may be called
  /// from several threads.
  std::function<double()> time_share = {};
};

struct Placement {
  std::size_t piece;  ///< index in Order::pieces
  int copy;           ///< from 0
  std::size_t sheet;  ///< index in Layout::sheets
  double angle_deg = 0.0;
  bool flipped;         ///< mirrored left to right before it was turned
  outline::Point move;  ///< added after turning
};

struct UsedSheet {
  std::size_t stock;      ///< index in Order::stock
  double used_length_mm;  ///< along the sheet (x), from its edge to the farthest piece plus margin
  double used_area_mm2 = 0.0;
};

struct Layout {
  std::vector<UsedSheet> sheets;
  std::vector<Placement> placements;
  int bound;                          ///< proven lower bound on sheets of the largest kind
  std::vector<std::string> unplaced;  ///< "name copy: reason"; empty if all are placed
  bool stopped_early = false;
};

/// Places all pieces: fewest (then cheapest) sheets, then shortest used length on the last one. Kept offcuts
/// first. The same answer for the same order, seed and passes, whatever the number of threads. Every layout
/// returned has passed `check`. Throws a Failure (data) if a piece, spacing or margin makes no sense.
Layout nest(const Order& order, const Effort& effort);

/// The piece as placed, in sheet coordinates.
outline::Polygon placed_shape(const Order& order, const Placement& placement);

/// Independent exact check of a layout: pieces apart by the spacing, inside the sheet less the margin.
/// Returns what is wrong, in words; empty if nothing is.
std::vector<std::string> check(const Order& order, const Layout& layout);

/// What remains of a sheet as one clean full-width rectangle behind the used length, mm; nothing if none
/// remains.
struct Remnant {
  std::size_t sheet;
  double length_mm;
  double width_mm;
};
std::vector<Remnant> remnants(const Order& order, const Layout& layout);

}  // namespace warmsheet::nesting
