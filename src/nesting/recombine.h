// SPDX-License-Identifier: MIT
// Loads of a sheet that are known to fit, put together anew so that a whole order needs fewer sheets: a
// cutting stock problem over the loads found so far.
#pragma once

#include <cstddef>
#include <utility>
#include <vector>

namespace warmsheet::nesting {

/// A load that fits on a kind of sheet; any part of it does too.
struct Load {
  std::size_t stock = 0;
  std::vector<std::pair<std::size_t, int>> pieces;  ///< piece and how many
};

/// What is to be placed and on what.
struct Demand {
  std::vector<int> copies;    ///< of each piece
  std::vector<double> areas;  ///< of each piece
  struct Sheet {
    double area;
    double cost;
    int available;
  };
  std::vector<Sheet> sheets;  ///< of each stock
};

/// A load, and how much of it is taken.
struct Taken {
  std::size_t load;
  std::vector<std::pair<std::size_t, int>> pieces;
};

/// Cheapest found; empty if the loads cannot cover the demand. Sheet after sheet the load worth most for its
/// cost, where pieces that ended on poorly filled sheets are worth more the next time round (sequential value
/// correction, after Mukhacheva, Belov, Kartak, Mukhacheva 2000; from memory).
std::vector<Taken> recombined(const std::vector<Load>& loads, const Demand& demand);

}  // namespace warmsheet::nesting
