// SPDX-License-Identifier: MIT
// Makes the last bin as short as possible: shorten a little, drive the overlaps out, again; when that fails,
// disturb a good failure and try on (exploration), and at the end squeeze the best layout in ever smaller
// steps (compression). After Gardeyn, Vanden Berghe, Wauters 2025 (arXiv 2509.13329), routines 12 and 13.
#pragma once

#include <optional>

#include "nesting/separator.h"

namespace warmsheet::nesting {

struct Found {
  std::vector<Spot> spots;
  double length_mm;  ///< of the last bin
};

class Shortener {
 public:
  /// \param shortest_mm a length that is proven to be reached by none shorter: the search stops there
  Shortener(Crowd& crowd, Random random, double shortest_mm);

  /// Separates the crowd as it is, lengthening the last bin as often as needed; false if the budget ran out
  /// before.
  bool start(Budget& budget);
  void explore(Budget& budget);
  void compress(Budget& budget);

  [[nodiscard]] const std::optional<Found>& best() const { return best_; }
  /// Takes over another worker's layout.
  void adopt(const Found& found);
  [[nodiscard]] bool at_bound() const;

 private:
  struct Failed {
    std::vector<Spot> spots;
    double loss;
  };

  void keep();
  [[nodiscard]] double used_length() const;
  void disturb();
  void swap_places(std::size_t a, std::size_t b);
  void put(std::size_t item, std::size_t bin, Vec at);

  Crowd* crowd_;
  Separator separator_;
  double shortest_mm_;
  std::optional<Found> best_;
  std::vector<Failed> failures_;
  double share_ = 0.02;
};

}  // namespace warmsheet::nesting
