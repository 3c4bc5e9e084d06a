// SPDX-License-Identifier: MIT
// Drives a crowd's overlaps to zero: each overlapping item in turn goes to the best place found by sampling
// and coordinate descent, weights rise where overlaps persist, and a search that is stuck starts again from
// its best. Guided local search after Gardeyn, Vanden Berghe, Wauters 2025 (arXiv 2509.13329), routines 5-10.
#pragma once

#include <functional>

#include "nesting/crowd.h"

namespace warmsheet::nesting {

/// What is left to spend. Passes are counted, so that a machine's speed does not change the answer.
struct Budget {
  long passes = 0;
  const std::function<bool()>* stop = nullptr;
  bool stopped = false;  ///< by `stop`, not by the count

  /// Takes one pass; false if none is left or the search was told to stop.
  bool spend();
};

struct Patience {
  int passes_without_gain = 200;
  int strikes = 3;
};

class Separator {
 public:
  Separator(Crowd& crowd, Random random) : crowd_(&crowd), random_(random) {}

  /// True if no overlap is left; else the crowd holds the least overlap seen.
  bool run(const Patience& patience, Budget& budget);

  Random& random() { return random_; }
  /// Loss the last failed run ended with.
  [[nodiscard]] double least_loss() const { return least_loss_; }

 private:
  struct Candidate {
    Spot spot;
    double cost;
  };

  void pass();
  void relocate(std::size_t item);
  void sample(std::size_t item, const Spot& from);
  void consider(std::size_t item, const Spot& spot);
  [[nodiscard]] Candidate descend(std::size_t item, Candidate from, double first_step, double last_step,
                                  double give_up);
  [[nodiscard]] std::size_t any_stance(std::size_t item);
  [[nodiscard]] bool alike(std::size_t item, const Spot& a, const Spot& b) const;

  Crowd* crowd_;
  Random random_;
  double least_loss_ = 0.0;
  std::vector<std::size_t> order_;
  std::vector<Candidate> best_;
};

}  // namespace warmsheet::nesting
