// SPDX-License-Identifier: MIT
// An order made ready for the search: forms, turns, kinds, the ground of each kind of stock, what lies
// already.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "nesting/crowd.h"
#include "nesting/nest.h"

namespace warmsheet::nesting {

/// One copy of one piece.
struct Copy {
  std::size_t piece;
  int number;  ///< from 0
};

struct StockPlan {
  Bin bin;
  Vec corner;                ///< of the stock's box, in the stock's own coordinates
  std::vector<Spot> ground;  ///< what of the box is no sheet to cut from; bins do not count here
  double area = 0.0;
  double capacity = 0.0;  ///< what the claims of pieces can add up to here, never too little
  double cost = 0.0;      ///< price; where prices are not given, one a sheet, and a trifle for its size
  int available = 0;      ///< how many may still be opened
};

inline constexpr std::size_t no_pin = std::numeric_limits<std::size_t>::max();

/// A sheet on which pieces lie already.
struct PinnedSheet {
  std::size_t stock;
  std::vector<Spot> pieces;
};

/// Copies that come from one sheet: a copy alone, or those of one orthosis.
struct Unit {
  std::vector<std::size_t> copies;
  int priority;
  std::size_t pin;  ///< the pinned sheet it must lie on, or no_pin
};

/// One sheet in use.
struct BinUse {
  std::size_t stock = 0;
  std::size_t pin = no_pin;  ///< which pinned sheet it is, if any
};

struct Task {
  std::vector<Form> forms;  ///< of the pieces, then of the ground; moved into Shapes
  std::size_t first_ground = 0;
  std::vector<Stance> stances;
  std::vector<double> angles_deg;
  std::vector<Kind> kinds;       ///< one for each piece of the order
  std::vector<StockPlan> stock;  ///< one for each stock of the order
  std::vector<PinnedSheet> pinned;
  std::vector<Copy> copies;  ///< without those that are fixed
  std::vector<Unit> units;
  double spacing_mm = 0.0;
};

/// What opening one of each stock costs: nothing for offcuts, else its price. Where one has no price, every
/// sheet counts as one, and between equal counts the smaller sheets are taken.
std::vector<double> stock_costs(const Order& order);

/// \pre the order makes sense
Task prepare(const Order& order);

/// Sorts the copies into units; again after copies were left out.
void group_units(Task& task, const Order& order);

/// Where a placement puts its piece in a bin whose corner is given; nothing if the piece has no such side up.
/// \param forms those of the task, wherever they are now
std::optional<Spot> spot_of(const Task& task, const std::vector<Form>& forms, const Placement& placement,
                            Vec corner);

/// A copy laid in a bin whose box has its lower left corner at `corner` of the stock's coordinates.
Placement placement_of(const Shapes& shapes, const Copy& copy, const Spot& spot, Vec corner);

/// What lies on a sheet before any copy is laid: its ground and what is pinned there.
std::vector<Spot> lying_on(const Task& task, const BinUse& use);

/// The world of a selection of copies on the sheets given.
/// \param copies indices in Task::copies
World world_of(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& copies,
               const std::vector<BinUse>& uses);
std::vector<Bin> bins_of(const Task& task, const std::vector<BinUse>& uses);

}  // namespace warmsheet::nesting
