// SPDX-License-Identifier: MIT
// Placing outlines on sheets and kept offcuts: true shapes with holes, rotations, spacing, edge margin,
// several sheet sizes. Everything here is plain geometry in millimetres; rooms above make figures of it.
#pragma once

#include <cstdint>
#include <functional>
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
  /// Pieces of the same group and copy number come from one sheet: the parts of one orthosis. Empty: no
  /// group.
  std::string group = {};
  int priority = 0;  ///< where stock runs out, higher ones are placed first
};

/// A kind of sheet, or one kept offcut (count 1). A rectangle is a polygon too.
struct Stock {
  std::string name;
  outline::Polygon shape;
  int count = -1;      ///< how many there are; -1 for as many as needed
  double price = 0.0;  ///< what using one costs; offcuts cost nothing
  bool offcut = false;
  /// Zones that no piece may lie in (and stays the margin away from); they may reach over the edge.
  std::vector<outline::Polygon> spoilt = {};
};

/// Where one copy of a piece lies.
struct Placement {
  std::size_t piece = 0;  ///< index in Order::pieces
  int copy = 0;           ///< from 0
  std::size_t sheet = 0;  ///< index in Layout::sheets
  double angle_deg = 0.0;
  bool flipped = false;  ///< mirrored left to right before it was turned
  outline::Point move;   ///< added after turning
};

struct Order {
  std::vector<Piece> pieces;
  std::vector<Stock> stock;
  double spacing_mm = 0.0;  ///< at least this far between pieces
  double margin_mm = 0.0;   ///< at least this far from a sheet's edge
  /// Copies that lie already and stay; `sheet` is an index in `fixed_sheets`, which names the stock of each.
  std::vector<Placement> fixed = {};
  std::vector<std::size_t> fixed_sheets = {};
};

struct Layout;

/// How far a search is, for somebody who waits.
struct Progress {
  double share = 0.0;           ///< of the effort, 0 to 1
  std::size_t sheets = 0;       ///< in use, kept offcuts included
  double used_length_mm = 0.0;  ///< of the last one; 0 while sheets are still being filled or emptied
};

/// The budget is in passes, so that every machine gives the same answer; `stop` may end a search early
/// (ctrl-C, a clock), and the best layout so far is returned.
struct Effort {
  std::uint64_t seed = 1;
  int passes = 600;
  int threads = 1;  ///< changes the time, never the answer
  std::function<bool()> stop = {};
  /// For a caller with a clock: the share of its time that is gone, 0 to 1; the search ends at 1 and knows
  /// when to turn from exploring to squeezing. The answer then depends on the machine. Both may be called
  /// from several threads.
  std::function<double()> time_share = {};
  /// Told now and then, from the calling thread; it changes nothing.
  std::function<void(const Progress&)> progress = {};
  /// An earlier layout of the same order to begin from. Not owned; of no effect if it fails its check.
  const Layout* start = nullptr;
};

struct UsedSheet {
  std::size_t stock = 0;        ///< index in Order::stock
  double used_length_mm = 0.0;  ///< along the sheet (x), from its edge to the farthest piece plus margin
  double used_area_mm2 = 0.0;
};

/// A copy that found no place.
struct Unplaced {
  std::size_t piece = 0;
  int copy = 0;
  std::string reason;
};

struct Layout {
  std::vector<UsedSheet> sheets;  ///< the one whose used length was made short is the last
  std::vector<Placement> placements;
  int bound = 0;  ///< proven lower bound on sheets of the largest kind
  /// Proven: no layout with these sheets has a shorter last one; 0 if nothing is known.
  double shortest_mm = 0.0;
  std::vector<Unplaced> unplaced;
  bool stopped_early = false;
};

/// Places all pieces: on the cheapest sheets if all have a price, else on the fewest and then the smallest;
/// then shortest used length on the last one. Kept offcuts first. The same answer for the same order, seed
/// and passes, whatever the number of threads. Every layout returned has passed `check`. A search that is no
/// proof may by luck find less for a harder order (a copy more, a wider gap); begun from that order's layout
/// (`Effort::start`) it is never worse. Throws a Failure (data) if a piece, spacing or margin makes no sense.
Layout nest(const Order& order, const Effort& effort);

/// The piece as placed, in sheet coordinates.
outline::Polygon placed_shape(const Order& order, const Placement& placement);

/// Independent exact check of a layout: pieces apart by the spacing, inside the sheet less the margin.
/// Returns what is wrong, in words; empty if nothing is.
std::vector<std::string> check(const Order& order, const Layout& layout);

/// The part of it that asks only where pieces lie, not whether all copies do. \pre all indices are sound
std::vector<std::string> check_placements(const Order& order, const Layout& layout);

/// What remains of a sheet as one clean full-width rectangle behind the used length, mm; nothing if none
/// remains.
struct Remnant {
  std::size_t sheet;
  double length_mm;
  double width_mm;
};
std::vector<Remnant> remnants(const Order& order, const Layout& layout);

}  // namespace warmsheet::nesting
