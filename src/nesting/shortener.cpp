// SPDX-License-Identifier: MIT
#include "nesting/shortener.h"

#include <utility>

namespace warmsheet::nesting {
namespace {

constexpr double least_share = 0.001;  // of the length, taken off after a success
constexpr double most_share = 0.02;    // while successes come easily
constexpr double share_rise = 1.5;
constexpr Patience starting{30, 1};
constexpr Patience exploring{60, 2};
constexpr Patience compressing{60, 2};

}  // namespace

Shortener::Shortener(Crowd crowd, Random random, double shortest_mm)
    : pursuit_(std::move(crowd), random), shortest_mm_(shortest_mm), share_(most_share) {}

double Shortener::used_length() const {
  const Crowd& crowd = pursuit_.crowd();
  const std::size_t last = crowd.bins().size() - 1;
  double used = 0.0;
  for (std::size_t i = 0; i < crowd.items(); ++i) {
    const Spot& spot = crowd.spot(i);
    if (spot.bin != last) continue;
    used = std::max(used, spot.at.x + crowd.box(i).x1 + crowd.bins()[last].margin_mm);
  }
  return used;
}

void Shortener::keep() {
  const double length = used_length();
  if (!best_ || length < best_->length_mm)
    best_ = Found{pursuit_.crowd().spots(), length};
  else
    shortest_mm_ = best_->length_mm;  // tried shorter than what lies there: it would be tried for ever
}

bool Shortener::at_bound() const {
  return best_ && best_->length_mm <= shortest_mm_ * (1.0 + 1e-9);
}

void Shortener::start(Budget& budget) {
  constexpr double longer = 1.1;
  while (!best_) {
    if (!trying_) pursuit_.begin(starting);
    trying_ = true;
    const Outcome outcome = pursuit_.advance(budget);
    if (outcome == Outcome::paused) return;
    trying_ = false;
    if (outcome == Outcome::apart) return keep();
    pursuit_.crowd().stretch_last(longer * target_mm(), 0.5 * target_mm());
  }
}

void Shortener::explore(Budget& budget) {
  while (!budget.over() && !at_bound()) {
    if (!trying_) {
      const double length = best_->length_mm;
      pursuit_.crowd().stretch_last(std::max(shortest_mm_, length * (1.0 - share_)), 0.5 * length);
      pursuit_.begin(exploring);
      trying_ = true;
    }
    const Outcome outcome = pursuit_.advance(budget);
    if (outcome == Outcome::paused) return;
    if (outcome == Outcome::apart) {
      keep();
      share_ = std::min(most_share, share_ * share_rise);
      trying_ = false;
    } else if (share_ > least_share) {  // too greedy: back to the best, in smaller steps
      share_ = least_share;
      lay_out(*best_);
    }
  }
}

void Shortener::lay_out(const Found& found) {
  pursuit_.crowd().stretch_last(found.length_mm, found.length_mm);
  pursuit_.crowd().restore(found.spots);
  trying_ = false;
}

void Shortener::adopt(const Found& found) {
  lay_out(found);
  best_ = found;
}

void Shortener::turn_to_compression() {
  pursuit_.allow_tilts(true);
  if (best_) lay_out(*best_);
}

void Shortener::compress(Budget& budget) {
  constexpr double first_share = 0.0005;
  constexpr double last_share = 0.00001;
  while (!budget.over() && !at_bound()) {
    if (!trying_) {
      const double share = last_share + (1.0 - budget.share_of_phase()) * (first_share - last_share);
      const double target = std::max(shortest_mm_, best_->length_mm * (1.0 - share));
      pursuit_.crowd().stretch_last(target, pursuit_.random().between(0.0, target));
      pursuit_.begin(compressing);
      trying_ = true;
    }
    const Outcome outcome = pursuit_.advance(budget);
    if (outcome == Outcome::paused) return;
    if (outcome == Outcome::apart) keep();
    lay_out(*best_);
  }
}

}  // namespace warmsheet::nesting
