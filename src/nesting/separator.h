// SPDX-License-Identifier: MIT
// Drives a crowd's overlaps to zero: each overlapping item in turn goes to the best place found by sampling
// and coordinate descent, weights rise where overlaps persist, and a search that is stuck starts again from
// its best. Guided local search after Gardeyn, Vanden Berghe, Wauters 2025 (arXiv 2509.13329), routines 5-10.
#pragma once

#include "nesting/budget.h"
#include "nesting/crowd.h"

namespace warmsheet::nesting {

struct Patience {
  int idle_passes = 200;  ///< passes without gain after which a strike is counted
  int strikes = 3;        ///< in a row without gain, after which the search is stuck
};

enum class Outcome {
  apart,   ///< no overlap is left
  stuck,   ///< the crowd holds the least overlap seen
  paused,  ///< the budget's slice is over; `advance` goes on from here
};

class Separator {
 public:
  Separator(Crowd& crowd, Random random) : crowd_(&crowd), random_(random) {}

  /// Whether pieces that may be turned freely leave the grid of angles; better layouts, but slow.
  void allow_tilts(bool allow) { tilts_ = allow; }

  /// Starts on the crowd as it is.
  void begin(const Patience& patience);
  Outcome advance(Budget& budget);
  /// Both in one; a pause counts as failure and leaves the least overlap seen.
  bool run(const Patience& patience, Budget& budget);

  Random& random() { return random_; }
  [[nodiscard]] double least_loss() const { return least_loss_; }

 private:
  struct Candidate {
    Spot spot;
    double cost;
  };

  void pass();
  void note_progress();
  void relocate(std::size_t item);
  void sample(std::size_t item, const Spot& from);
  void consider(std::size_t item, const Spot& spot);
  [[nodiscard]] Candidate descend(std::size_t item, Candidate from, double first_step, double last_step,
                                  bool tilting);
  [[nodiscard]] Candidate tilt(std::size_t item, const Candidate& from, double by_deg);
  [[nodiscard]] std::size_t any_stance(std::size_t item);
  [[nodiscard]] bool alike(std::size_t item, const Spot& a, const Spot& b) const;

  Crowd* crowd_;
  Random random_;
  bool tilts_ = false;
  Patience patience_;
  int strikes_ = 0;
  int idle_ = 0;
  double least_loss_ = 0.0;
  double loss_at_gain_ = 0.0;    // when progress was last counted
  double loss_at_strike_ = 0.0;  // when the last strike was counted
  std::vector<Spot> best_spots_;
  std::vector<std::size_t> order_;
  std::vector<Candidate> best_;
};

}  // namespace warmsheet::nesting
