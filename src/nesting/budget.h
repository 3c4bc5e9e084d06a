// SPDX-License-Identifier: MIT
// How far a search may go. Passes are counted, so that a machine's speed does not change the answer; a caller
// with a clock may give the share of its time instead.
#pragma once

#include <algorithm>
#include <limits>

#include "nesting/nest.h"

namespace warmsheet::nesting {

class Budget {
 public:
  explicit Budget(const Effort& effort) : effort_(&effort) {}

  /// Takes one pass; false if the phase, the slice or the whole is over, or the search was told to stop.
  bool spend();
  /// Of the whole, 0 to 1, by passes or by the caller's clock, whichever says more.
  [[nodiscard]] double share() const;
  /// The phase ends when this share of the whole is spent.
  void phase_until(double share);
  /// Of the phase, 0 to 1.
  [[nodiscard]] double share_of_phase() const;
  /// The slice ends after this many passes more; the phase goes on after it.
  void slice(long passes) { slice_end_ = used_ + static_cast<double>(passes); }
  [[nodiscard]] bool phase_over() const { return stopped_ || share() >= phase_end_; }
  [[nodiscard]] bool over() const { return phase_over() || used_ >= slice_end_; }
  /// By the caller, not by the count or the clock.
  [[nodiscard]] bool stopped() const { return stopped_; }
  [[nodiscard]] double used() const { return used_; }
  /// Adds what was spent by work with a copy of this budget, in passes.
  void charge(double passes, bool stopped) {
    used_ += passes;
    stopped_ = stopped_ || stopped;
  }

 private:
  const Effort* effort_;
  double used_ = 0.0;
  double slice_end_ = std::numeric_limits<double>::infinity();
  double phase_start_ = 0.0;
  double phase_end_ = 1.0;
  bool stopped_ = false;
};

}  // namespace warmsheet::nesting
