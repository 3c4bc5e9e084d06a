// SPDX-License-Identifier: MIT
#include "nesting/pursuit.h"

#include <utility>

namespace warmsheet::nesting {

Pursuit::Pursuit(Crowd crowd, Random random) : crowd_(std::move(crowd)), separator_(crowd_, random) {}

void Pursuit::begin(const Patience& patience) {
  patience_ = patience;
  stuck_ = false;
  failures_.clear();
  crowd_.forget();
  separator_.begin(patience);
}

Outcome Pursuit::advance(Budget& budget) {
  if (stuck_) {
    disturb();
    separator_.begin(patience_);
    stuck_ = false;
  }
  const Outcome outcome = separator_.advance(budget);
  if (outcome == Outcome::stuck) {
    failures_.push_back({crowd_.spots(), separator_.least_loss()});
    stuck_ = true;
  }
  return outcome;
}

/// Rank drawn near the top of the failures sorted by loss.
std::size_t Pursuit::likely_failure() {
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
std::vector<std::size_t> Pursuit::large_items() const {
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
void Pursuit::disturb() {
  constexpr int most_draws = 20;
  crowd_.restore(failures_[likely_failure()].spots);
  crowd_.forget();
  const std::vector<std::size_t> large = large_items();
  const std::size_t a = large[separator_.random().below(large.size())];
  const auto may_swap = [&](std::size_t other) {
    const bool across = crowd_.spot(a).bin != crowd_.spot(other).bin;
    if (across && (crowd_.stays(a) || crowd_.stays(other))) return false;
    return crowd_.world().items[a] != crowd_.world().items[other];
  };
  std::size_t b = a;
  for (int draw = 0; draw < most_draws && !may_swap(b); ++draw)
    b = large[separator_.random().below(large.size())];
  if (crowd_.spot(a).bin != crowd_.spot(b).bin && (crowd_.stays(a) || crowd_.stays(b))) return;
  const Spot from = crowd_.spot(a);
  const Spot to = crowd_.spot(b);
  put(a, to.bin, to.at);
  put(b, from.bin, from.at);
}

void Pursuit::put(std::size_t item, std::size_t bin, Vec at) {
  const Spot wanted{crowd_.spot(item).stance, bin, at};
  if (const std::optional<Spot> fits = crowd_.inside(item, wanted)) crowd_.move(item, *fits);
}

}  // namespace warmsheet::nesting
