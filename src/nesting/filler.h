// SPDX-License-Identifier: MIT
// Touching positions: where a piece may lie in a bin so that it touches the edge or what lies there already.
#pragma once

#include <optional>
#include <set>
#include <vector>

#include "nesting/task.h"

namespace warmsheet::nesting {

/// One bin while it is filled: what lies in it, and which pieces are known not to fit any more.
struct OpenBin {
  BinUse use;
  std::vector<Spot> laid;
  std::set<std::size_t> full_for;
};

/// A position that touches, not yet known to be free.
struct Try {
  double right;
  double top;
  std::size_t stance;
  Vec at;
};

/// Which touching position comes first: the farthest left and of those the lowest, or the other way round.
enum class Way { columns, rows };

class Filler {
 public:
  Filler(const Task& task, const Shapes& shapes) : task_(task), shapes_(shapes) {}

  /// With its ground and what is pinned there.
  [[nodiscard]] OpenBin open(const BinUse& use) const;
  /// The free touching position that comes first, among some of the piece's stances.
  [[nodiscard]] std::optional<Spot> find(const OpenBin& bin, std::size_t piece, Way way = Way::columns) const;
  /// Free touching positions of one stance that end before `right`, farthest left first, at most so many.
  [[nodiscard]] std::vector<Try> places(const OpenBin& bin, std::size_t stance, double right,
                                        std::size_t most) const;

 private:
  void add_tries(const OpenBin& bin, std::size_t stance, std::vector<Try>& tries) const;
  [[nodiscard]] std::vector<Vec> touching(std::size_t stance, const Spot& other) const;
  [[nodiscard]] bool free(const OpenBin& bin, std::size_t stance, Vec at) const;
  [[nodiscard]] double tilted_loss(std::size_t stance, Vec at, const Spot& other) const;

  const Task& task_;
  const Shapes& shapes_;
};

}  // namespace warmsheet::nesting
