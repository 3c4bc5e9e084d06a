// SPDX-License-Identifier: MIT
// Makes the last bin as short as possible: shorten a little, drive the overlaps out, again (exploration); and
// at the end squeeze the best layout in ever smaller steps (compression). After Gardeyn, Vanden Berghe,
// Wauters 2025 (arXiv 2509.13329), routines 12 and 13.
#pragma once

#include <optional>

#include "nesting/pursuit.h"

namespace warmsheet::nesting {

struct Found {
  std::vector<Spot> spots;
  double length_mm;  ///< of the last bin
};

class Shortener {
 public:
  /// \param shortest_mm the search stops at a last bin so short \pre every item still fits there or elsewhere
  Shortener(Crowd crowd, Random random, double shortest_mm);

  /// Separates the crowd as it is, lengthening the last bin as often as needed, until the budget is over.
  void start(Budget& budget);
  /// Both go on where the budget's last slice ended.
  void explore(Budget& budget);
  void compress(Budget& budget);

  [[nodiscard]] const std::optional<Found>& best() const { return best_; }
  /// The length now tried for.
  [[nodiscard]] double target_mm() const { return pursuit_.crowd().bins().back().length_mm; }
  [[nodiscard]] std::size_t bins() const { return pursuit_.crowd().bins().size(); }
  [[nodiscard]] bool at_bound() const;
  [[nodiscard]] std::uint64_t evaluations() const { return pursuit_.crowd().evaluations(); }

  /// Leaves what it does and goes on from another layout.
  void adopt(const Found& found);
  /// Exploring is over: the next steps are those of compression.
  void turn_to_compression();

 private:
  void keep();
  void lay_out(const Found& found);
  [[nodiscard]] double used_length() const;

  Pursuit pursuit_;
  double shortest_mm_;
  bool trying_ = false;
  std::optional<Found> best_;
  double share_;
};

}  // namespace warmsheet::nesting
