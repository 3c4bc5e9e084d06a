// SPDX-License-Identifier: MIT
// An order made ready for the search: checked, with forms, turns, kinds, and the ground of each kind of
// stock.
#pragma once

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

/// What lies in a bin of some stock besides pieces: stances of ground forms and where.
struct Ground {
  std::size_t stance;
  Vec at;
};

struct StockPlan {
  Bin bin;
  Vec corner;  ///< of the stock's box, in the stock's own coordinates
  std::vector<Ground> ground;
  double area = 0.0;
  double cost = 0.0;  ///< price, or area where prices are not given
  int available = 0;  ///< most that can be of use
};

struct Task {
  std::vector<Form> forms;  ///< of the pieces, then of the ground
  std::size_t first_ground = 0;
  std::vector<Stance> stances;
  std::vector<double> angles_deg;
  std::vector<Kind> kinds;  ///< one for each piece of the order
  std::vector<Copy> copies;
  std::vector<StockPlan> stock;  ///< one for each stock of the order
};

/// Throws a Failure (data) with all that makes no sense in the order.
void refuse_nonsense(const Order& order);
/// The same for the pieces and gaps alone.
void refuse_strange_pieces(const Order& order);

/// \pre the order makes sense
Task prepare(const Order& order);

/// The world of a selection of copies on bins of the stocks given.
/// \param copies indices in Task::copies
/// \param bin_stock for each bin, the index in Task::stock
World world_of(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& copies,
               const std::vector<std::size_t>& bin_stock);
/// A copy laid in a bin whose box has its lower left corner at `corner` of the stock's coordinates.
Placement placement_of(const Shapes& shapes, const Copy& copy, const Spot& spot, Vec corner);
std::vector<Bin> bins_of(const Task& task, const std::vector<std::size_t>& bin_stock);

}  // namespace warmsheet::nesting
