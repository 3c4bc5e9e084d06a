// SPDX-License-Identifier: MIT
#include "nesting/budget.h"

#include <algorithm>

namespace warmsheet::nesting {

double Budget::share() const {
  const double by_count = used_ / std::max(1, effort_->passes);
  return effort_->time_share ? std::max(by_count, effort_->time_share()) : by_count;
}

void Budget::phase_until(double end) {
  phase_start_ = share();
  phase_end_ = end;
}

double Budget::share_of_phase() const {
  if (phase_end_ <= phase_start_) return 1.0;
  return std::clamp((share() - phase_start_) / (phase_end_ - phase_start_), 0.0, 1.0);
}

bool Budget::spend() {
  if (!stopped_ && effort_->stop && effort_->stop()) stopped_ = true;
  if (over()) return false;
  used_ += 1.0;
  return true;
}

}  // namespace warmsheet::nesting
