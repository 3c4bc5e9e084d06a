// SPDX-License-Identifier: MIT
#include "nesting/separator.h"

#include <utility>

namespace warmsheet::nesting {
namespace {

constexpr int samples_near = 25;
constexpr std::size_t samples_anywhere = 50;
constexpr std::size_t most_bins_tried = 4;
constexpr std::size_t kept_candidates = 2;
constexpr double least_gain = 0.98;  // of the loss before: less than 2 % better is not progress

// Shares of the item's narrow side.
constexpr double distinct_share = 0.05;
constexpr double coarse_first = 0.25;
constexpr double coarse_last = 0.02;
constexpr double fine_first = 0.01;
constexpr double fine_last = 0.001;

constexpr double first_tilt_deg = 2.0;
constexpr double last_tilt_deg = 0.02;

void shuffle(std::vector<std::size_t>& values, Random& random) {
  for (std::size_t i = values.size(); i > 1; --i) std::swap(values[i - 1], values[random.below(i)]);
}

}  // namespace

void Separator::begin(const Patience& patience) {
  patience_ = patience;
  strikes_ = 0;
  idle_ = 0;
  least_loss_ = loss_at_gain_ = loss_at_strike_ = crowd_->total_loss();
  best_spots_ = crowd_->spots();
}

Outcome Separator::advance(Budget& budget) {
  while (!crowd_->apart()) {
    if (strikes_ >= patience_.strikes) return Outcome::stuck;
    if (!budget.spend()) return Outcome::paused;
    pass();
    if (!crowd_->apart()) note_progress();
  }
  return Outcome::apart;
}

bool Separator::run(const Patience& patience, Budget& budget) {
  begin(patience);
  const Outcome outcome = advance(budget);
  if (outcome == Outcome::paused) crowd_->restore(best_spots_);
  return outcome == Outcome::apart;
}

void Separator::note_progress() {
  const double loss = crowd_->total_loss();
  ++idle_;
  if (loss < least_loss_) {
    least_loss_ = loss;
    best_spots_ = crowd_->spots();
    if (loss < least_gain * loss_at_gain_) {
      loss_at_gain_ = loss;
      idle_ = 0;
    }
  }
  crowd_->learn();
  if (idle_ < patience_.idle_passes) return;
  strikes_ = least_loss_ < least_gain * loss_at_strike_ ? 0 : strikes_ + 1;
  loss_at_strike_ = loss_at_gain_ = least_loss_;
  idle_ = 0;
  crowd_->restore(best_spots_);
}

void Separator::pass() {
  order_.clear();
  for (std::size_t i = 0; i < crowd_->items(); ++i) {
    if (crowd_->overlaps(i)) order_.push_back(i);
  }
  shuffle(order_, random_);
  for (const std::size_t item : order_) {
    if (crowd_->overlaps(item)) relocate(item);
  }
}

std::size_t Separator::any_stance(std::size_t item) {
  const std::vector<std::size_t>& stances = crowd_->kind(item).stances;
  return stances.size() == 1 ? stances.front() : stances[random_.below(stances.size())];
}

bool Separator::alike(std::size_t item, const Spot& a, const Spot& b) const {
  if (a.bin != b.bin || a.stance != b.stance || a.tilt_deg != b.tilt_deg) return false;
  const double near = distinct_share * crowd_->kind(item).narrow;
  return std::abs(a.at.x - b.at.x) < near && std::abs(a.at.y - b.at.y) < near;
}

void Separator::consider(std::size_t item, const Spot& spot) {
  const double bound =
      best_.size() < kept_candidates ? std::numeric_limits<double>::infinity() : best_.back().cost;
  const double cost = crowd_->cost(item, spot, bound);
  if (cost >= bound) return;
  for (std::size_t i = 0; i < best_.size(); ++i) {
    if (!alike(item, best_[i].spot, spot)) continue;
    if (best_[i].cost <= cost) return;
    best_.erase(best_.begin() + static_cast<std::ptrdiff_t>(i));
    break;
  }
  if (best_.size() == kept_candidates) best_.pop_back();
  const auto place =
      std::upper_bound(best_.begin(), best_.end(), cost,
                       [](double c, const Candidate& candidate) { return c < candidate.cost; });
  best_.insert(place, {spot, cost});
}

void Separator::sample(std::size_t item, const Spot& from) {
  const Extent& box = crowd_->stance(from.stance).box;
  for (int k = 0; k < samples_near; ++k) {
    const std::size_t stance = any_stance(item);
    const Room room = crowd_->room(stance, from.bin);
    if (room.empty()) continue;
    const Vec at{from.at.x + random_.between(-0.5, 0.5) * box.width(),
                 from.at.y + random_.between(-0.5, 0.5) * box.height()};
    consider(item, {stance, from.bin, room.clamped(at)});
  }
  const std::size_t bins = crowd_->stays(item) ? 1 : crowd_->bins().size();
  const std::size_t tried = std::min(bins, most_bins_tried);
  for (std::size_t t = 0; t < tried; ++t) {
    const std::size_t bin = bins == 1 ? from.bin : random_.below(bins);
    for (std::size_t k = 0; k < samples_anywhere / tried; ++k) {
      const std::size_t stance = any_stance(item);
      const Room room = crowd_->room(stance, bin);
      if (room.empty()) continue;
      const double x = random_.between(room.low.x, room.high.x);
      const double y = random_.between(room.low.y, room.high.y);
      consider(item, {stance, bin, {x, y}});
    }
  }
}

/// The better of both tilts, if it is better than `from`.
Separator::Candidate Separator::tilt(std::size_t item, const Candidate& from, double by_deg) {
  Candidate best = from;
  for (const double way : {by_deg, -by_deg}) {
    Spot spot = from.spot;
    spot.tilt_deg += way;
    const Room room = crowd_->room(spot.stance, spot.bin, spot.tilt_deg);
    if (room.empty()) continue;
    spot.at = room.clamped(spot.at);
    const double cost = crowd_->cost(item, spot, best.cost);
    if (cost < best.cost) best = {spot, cost};
  }
  return best;
}

Separator::Candidate Separator::descend(std::size_t item, Candidate from, double first_step, double last_step,
                                        bool tilting) {
  constexpr double longer = 1.1;
  constexpr double shorter = 0.5;
  const double root_longer = std::sqrt(longer);
  const double root_shorter = std::sqrt(shorter);
  Vec step{first_step, first_step};
  double tilt_step_deg = tilting ? first_tilt_deg : 0.0;
  Room room = crowd_->room(from.spot.stance, from.spot.bin, from.spot.tilt_deg);
  while (from.cost > 0.0 && (step.x > last_step || step.y > last_step || tilt_step_deg > last_tilt_deg)) {
    const std::size_t axis = random_.below(tilting ? 5 : 4);
    if (axis == 4) {
      const Candidate turned = tilt(item, from, tilt_step_deg);
      const bool better = turned.cost < from.cost;
      if (better) room = crowd_->room(turned.spot.stance, turned.spot.bin, turned.spot.tilt_deg);
      from = turned;
      tilt_step_deg *= better ? longer : shorter;
      continue;
    }
    Vec way{axis == 1 ? 0.0 : step.x, axis == 0 ? 0.0 : step.y};
    if (axis == 3) way.y = -way.y;
    bool better = false;
    const Vec start = from.spot.at;
    for (const Vec d : {way, -way}) {
      Spot spot = from.spot;
      spot.at = room.clamped(start + d);
      const double cost = crowd_->cost(item, spot, from.cost);
      if (cost >= from.cost) continue;
      from = {spot, cost};
      better = true;
    }
    const bool diagonal = axis >= 2;
    const double factor = better ? (diagonal ? root_longer : longer) : (diagonal ? root_shorter : shorter);
    if (axis != 1) step.x *= factor;
    if (axis != 0) step.y *= factor;
  }
  return from;
}

void Separator::relocate(std::size_t item) {
  const Spot from = crowd_->spot(item);
  const double narrow = crowd_->kind(item).narrow;
  const double present = crowd_->present_cost(item);
  best_.clear();
  best_.push_back({from, present});
  sample(item, from);
  for (Candidate& candidate : best_) {
    candidate = descend(item, candidate, coarse_first * narrow, coarse_last * narrow, false);
  }
  Candidate best = *std::min_element(best_.begin(), best_.end(),
                                     [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
  best = descend(item, best, fine_first * narrow, fine_last * narrow, tilts_ && crowd_->kind(item).free);
  if (best.cost < present) crowd_->move(item, best.spot);
}

}  // namespace warmsheet::nesting
