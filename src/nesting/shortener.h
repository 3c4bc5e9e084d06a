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
  /// \param shortest_mm no layout has a shorter last bin: the search stops there
  Shortener(Crowd crowd, Random random, double shortest_mm);
  Shortener(const Shortener&) = delete;
  Shortener& operator=(const Shortener&) = delete;

  /// Separates the crowd as it is, lengthening the last bin as often as needed, until the budget is over.
  void start(Budget& budget);
  /// Both go on where the budget's last slice ended.
  void explore(Budget& budget);
  void compress(Budget& budget);

  [[nodiscard]] const std::optional<Found>& best() const { return best_; }
  /// The length now tried for.
  [[nodiscard]] double target_mm() const { return crowd_.bins().back().length_mm; }
  [[nodiscard]] bool at_bound() const;
  [[nodiscard]] std::uint64_t evaluations() const { return crowd_.evaluations(); }

  /// Leaves what it does and goes on from another layout.
  void adopt(const Found& found);
  /// Exploring is over: the next steps are those of compression.
  void turn_to_compression();

 private:
  struct Failed {
    std::vector<Spot> spots;
    double loss;
  };

  void keep();
  void lay_out(const Found& found);
  [[nodiscard]] double used_length() const;
  void aim();
  void exploration_stuck();
  void disturb();
  [[nodiscard]] std::size_t likely_failure();
  [[nodiscard]] std::vector<std::size_t> large_items() const;
  void put(std::size_t item, std::size_t bin, Vec at);

  Crowd crowd_;
  Separator separator_;
  double shortest_mm_;
  bool trying_ = false;
  std::optional<Found> best_;
  std::vector<Failed> failures_;
  double share_;
};

}  // namespace warmsheet::nesting
