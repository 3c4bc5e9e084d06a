// SPDX-License-Identifier: MIT
#include "nesting/shortener.h"

#include <utility>

namespace warmsheet::nesting {
namespace {

constexpr double least_share = 0.001;  // of the length, taken off after a success
constexpr double most_share = 0.02;    // while successes come easily
constexpr double share_rise = 1.5;
constexpr Patience starting{30, 1};
constexpr Patience exploring{200, 3};
constexpr Patience compressing{100, 5};

}  // namespace

Shortener::Shortener(Crowd crowd, Random random, double shortest_mm)
    : crowd_(std::move(crowd)), separator_(crowd_, random), shortest_mm_(shortest_mm), share_(most_share) {}

double Shortener::used_length() const {
  const std::size_t last = crowd_.bins().size() - 1;
  double used = 0.0;
  for (std::size_t i = 0; i < crowd_.items(); ++i) {
    const Spot& spot = crowd_.spot(i);
    if (spot.bin != last) continue;
    used = std::max(used, spot.at.x + crowd_.stance(spot.stance).box.x1 + crowd_.bins()[last].margin_mm);
  }
  return used;
}

void Shortener::keep() {
  const double length = used_length();
  if (!best_ || length < best_->length_mm) best_ = Found{crowd_.spots(), length};
}

bool Shortener::at_bound() const {
  return best_ && best_->length_mm <= shortest_mm_ * (1.0 + 1e-9);
}

void Shortener::start(Budget& budget) {
  constexpr double longer = 1.1;
  while (!best_) {
    if (!trying_) separator_.begin(starting);
    trying_ = true;
    const Outcome outcome = separator_.advance(budget);
    if (outcome == Outcome::paused) return;
    trying_ = false;
    if (outcome == Outcome::apart) return keep();
    crowd_.stretch_last(longer * target_mm(), 0.5 * target_mm());
  }
}

void Shortener::aim() {
  if (trying_) return;
  const double length = best_->length_mm;
  crowd_.stretch_last(std::max(shortest_mm_, length * (1.0 - share_)), 0.5 * length);
  crowd_.forget();
  separator_.begin(exploring);
  trying_ = true;
}

void Shortener::explore(Budget& budget) {
  while (!budget.over() && !at_bound()) {
    aim();
    const Outcome outcome = separator_.advance(budget);
    if (outcome == Outcome::paused) return;
    if (outcome == Outcome::stuck) {
      exploration_stuck();
      continue;
    }
    keep();
    failures_.clear();
    share_ = std::min(most_share, share_ * share_rise);
    trying_ = false;
  }
}

void Shortener::exploration_stuck() {
  if (share_ > least_share) {  // too greedy: back to the best, in smaller steps
    share_ = least_share;
    adopt(Found(*best_));
    return;
  }
  failures_.push_back({crowd_.spots(), separator_.least_loss()});
  disturb();
  separator_.begin(exploring);
}

/// Rank drawn near the top of the failures sorted by loss.
std::size_t Shortener::likely_failure() {
  std::stable_sort(failures_.begin(), failures_.end(),
                   [](const Failed& a, const Failed& b) { return a.loss < b.loss; });
  constexpr double spread = 0.25;
  constexpr double almost_all = 0.999;
  double deviate = -6.0;  // twelve uniforms less six are nearly a standard normal deviate
  for (int k = 0; k < 12; ++k) deviate += separator_.random().unit();
  return static_cast<std::size_t>(std::min(almost_all, std::abs(spread * deviate)) *
                                  static_cast<double>(failures_.size()));
}

/// The largest items that make up three quarters of all hull area; at least two.
std::vector<std::size_t> Shortener::large_items() const {
  constexpr double large_share = 0.75;
  std::vector<std::size_t> items(crowd_.items());
  double total = 0.0;
  for (std::size_t i = 0; i < items.size(); ++i) {
    items[i] = i;
    total += crowd_.kind(i).hull_area;
  }
  std::stable_sort(items.begin(), items.end(), [this](std::size_t a, std::size_t b) {
    return crowd_.kind(a).hull_area > crowd_.kind(b).hull_area;
  });
  std::size_t count = 0;
  for (double sum = 0.0; count < items.size() && sum < large_share * total; ++count)
    sum += crowd_.kind(items[count]).hull_area;
  items.resize(std::min(std::max<std::size_t>(count, 2), items.size()));
  return items;
}

/// Two large items of different kinds change places in a layout that nearly came apart.
void Shortener::disturb() {
  constexpr int most_draws = 20;
  crowd_.restore(failures_[likely_failure()].spots);
  crowd_.forget();
  const std::vector<std::size_t> large = large_items();
  const std::size_t a = large[separator_.random().below(large.size())];
  std::size_t b = a;
  for (int draw = 0; draw < most_draws && crowd_.world().items[a] == crowd_.world().items[b]; ++draw)
    b = large[separator_.random().below(large.size())];
  const Spot from = crowd_.spot(a);
  const Spot to = crowd_.spot(b);
  put(a, to.bin, to.at);
  put(b, from.bin, from.at);
}

void Shortener::put(std::size_t item, std::size_t bin, Vec at) {
  const Spot wanted{crowd_.spot(item).stance, bin, at};
  if (const std::optional<Spot> fits = crowd_.inside(item, wanted)) crowd_.move(item, *fits);
}

void Shortener::lay_out(const Found& found) {
  crowd_.stretch_last(found.length_mm, found.length_mm);
  crowd_.restore(found.spots);
  crowd_.forget();
  trying_ = false;
}

void Shortener::adopt(const Found& found) {
  lay_out(found);
  best_ = found;
  failures_.clear();
}

void Shortener::turn_to_compression() {
  if (best_) lay_out(*best_);
}

void Shortener::compress(Budget& budget) {
  constexpr double first_share = 0.0005;
  constexpr double last_share = 0.00001;
  while (!budget.over() && !at_bound()) {
    if (!trying_) {
      const double share = last_share + (1.0 - budget.share_of_phase()) * (first_share - last_share);
      const double target = std::max(shortest_mm_, best_->length_mm * (1.0 - share));
      crowd_.stretch_last(target, separator_.random().between(0.0, target));
      separator_.begin(compressing);
      trying_ = true;
    }
    const Outcome outcome = separator_.advance(budget);
    if (outcome == Outcome::paused) return;
    if (outcome == Outcome::apart) keep();
    lay_out(*best_);
  }
}

}  // namespace warmsheet::nesting
