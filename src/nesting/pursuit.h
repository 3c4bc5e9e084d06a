// SPDX-License-Identifier: MIT
// Tries to get a crowd apart and does not give up: where the separation is stuck, a good failure is disturbed
// by two large items changing places, and the separation starts again. After Gardeyn, Vanden Berghe, Wauters
// 2025 (arXiv 2509.13329), routine 12.
#pragma once

#include "nesting/separator.h"

namespace warmsheet::nesting {

class Pursuit {
 public:
  Pursuit(Crowd crowd, Random random);
  Pursuit(const Pursuit&) = delete;
  Pursuit& operator=(const Pursuit&) = delete;

  Crowd& crowd() { return crowd_; }
  [[nodiscard]] const Crowd& crowd() const { return crowd_; }
  void allow_tilts(bool allow) { separator_.allow_tilts(allow); }
  Random& random() { return separator_.random(); }

  /// Starts anew on the crowd as it is now; what failed before is of no use any more.
  void begin(const Patience& patience);
  /// After `stuck` the next call disturbs and goes on.
  Outcome advance(Budget& budget);
  /// Times it was stuck since it began.
  [[nodiscard]] std::size_t failures() const { return failures_.size(); }

 private:
  struct Failed {
    std::vector<Spot> spots;
    double loss;
  };

  void disturb();
  [[nodiscard]] std::size_t likely_failure();
  [[nodiscard]] std::vector<std::size_t> large_items() const;
  void put(std::size_t item, std::size_t bin, Vec at);

  Crowd crowd_;
  Separator separator_;
  Patience patience_;
  bool stuck_ = false;
  std::vector<Failed> failures_;
};

}  // namespace warmsheet::nesting
