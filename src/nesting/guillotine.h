// SPDX-License-Identifier: MIT
// Rectangles from one rectangle of sheet by straight cuts from edge to edge, as a knife and a straight edge
// make them. Whole micrometres, so that sums of sides are exact.
#pragma once

#include <cstdint>
#include <vector>

namespace warmsheet::nesting {

using Micrometres = std::int64_t;

/// A kind of rectangle that may be cut.
struct Blank {
  Micrometres width = 0;   ///< along x
  Micrometres height = 0;  ///< along y
  double value = 0.0;      ///< what one is worth; its area if waste is to be least
  int most = -1;           ///< at most so many; -1 for any number
  bool may_turn = false;   ///< by 90 degrees
};

/// A rectangle of sheet while it is cut up: a piece, waste, or cut in two.
struct Slab {
  enum class Kind { waste, piece, cut_across, cut_along };
  Kind kind = Kind::waste;
  Micrometres x = 0;
  Micrometres y = 0;
  Micrometres width = 0;
  Micrometres height = 0;
  Micrometres cut_at = 0;  ///< x of a cut across, y of a cut along: the knife takes the kerf from here on
  std::size_t blank = 0;   ///< of a piece, index in the list of blanks
  bool turned = false;
  std::size_t first = 0;  ///< of a cut: the part at the lower coordinate
  std::size_t second = 0;
};

/// Slabs in the order of cutting: the whole sheet first, each cut before its parts.
using CutTree = std::vector<Slab>;

struct Cutting {
  double value = 0.0;
  bool proven = false;  ///< no other guillotine cutting is worth more
  CutTree tree;
};

/// The most valuable cutting without limits on copies (`most` is not looked at): dynamic programme over all
/// sums of sides (Gilmore and Gomory 1966; Beasley 1985). Proven. \pre sides are positive
Cutting cut_unlimited(const std::vector<Blank>& blanks, Micrometres width, Micrometres height,
                      Micrometres kerf);

/// The same with limits: best first from the pieces upward, bounded by the unlimited programme (Viswanathan
/// and Bagchi 1993). Proven unless `most_nodes` rectangles were built before the search was over.
Cutting cut_limited(const std::vector<Blank>& blanks, Micrometres width, Micrometres height, Micrometres kerf,
                    std::size_t most_nodes = 500'000);

}  // namespace warmsheet::nesting
