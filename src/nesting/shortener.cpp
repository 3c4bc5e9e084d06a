// SPDX-License-Identifier: MIT
#include "nesting/shortener.h"

namespace warmsheet::nesting {
namespace {

constexpr double least_share = 0.001;  // of the length, taken off after a success
constexpr double most_share = 0.02;    // while successes come easily
constexpr double share_rise = 1.5;
constexpr Patience exploring{200, 3};
constexpr Patience compressing{100, 5};

}  // namespace

Shortener::Shortener(Crowd& crowd, Random random, double shortest_mm)
    : crowd_(&crowd), separator_(crowd, random), shortest_mm_(shortest_mm) {}

double Shortener::used_length() const {
  const std::size_t last = crowd_->bins().size() - 1;
  std::optional<double> used;
  for (std::size_t i = 0; i < crowd_->items(); ++i) {
    const Spot& spot = crowd_->spot(i);
    if (spot.bin == last) used = std::max(used.value_or(0.0), spot.at.x + crowd_->stance(spot.stance).box.x1);
  }
  return used ? *used + crowd_->bins()[last].margin_mm : 0.0;
}

void Shortener::keep() {
  const double length = used_length();
  if (!best_ || length < best_->length_mm) best_ = Found{crowd_->spots(), length};
}

bool Shortener::at_bound() const {
  return best_ && best_->length_mm <= shortest_mm_ * (1.0 + 1e-9);
}

bool Shortener::start(Budget& budget) {
  constexpr double longer = 1.1;
  constexpr Patience hasty{30, 1};
  while (!separator_.run(hasty, budget)) {
    if (budget.passes <= 0) return false;
    const double length = crowd_->bins().back().length_mm;
    crowd_->stretch_last(longer * length, 0.5 * length);
  }
  keep();
  return true;
}

void Shortener::explore(Budget& budget) {
  while (budget.passes > 0 && !at_bound()) {
    const double length = best_->length_mm;
    const double target = std::max(shortest_mm_, length * (1.0 - share_));
    if (crowd_->bins().back().length_mm > target || crowd_->apart()) {
      crowd_->stretch_last(target, 0.5 * length);
      crowd_->forget();
    }
    if (separator_.run(exploring, budget)) {
      keep();
      failures_.clear();
      share_ = std::min(most_share, share_ * share_rise);
      continue;
    }
    if (budget.passes <= 0) return;
    if (share_ > least_share) {
      share_ = least_share;
      adopt(Found(*best_));
      continue;
    }
    failures_.push_back({crowd_->spots(), separator_.least_loss()});
    disturb();
  }
}

void Shortener::disturb() {
  std::stable_sort(failures_.begin(), failures_.end(),
                   [](const Failed& a, const Failed& b) { return a.loss < b.loss; });
  // Rank drawn near the top: the sum of twelve uniforms less six is nearly a standard normal deviate.
  constexpr double spread = 0.25;
  double deviate = -6.0;
  for (int k = 0; k < 12; ++k) deviate += separator_.random().unit();
  const double rank = std::min(0.999, std::abs(spread * deviate)) * static_cast<double>(failures_.size());
  crowd_->restore(failures_[static_cast<std::size_t>(rank)].spots);
  crowd_->forget();

  std::vector<std::size_t> by_size;
  double total = 0.0;
  for (std::size_t i = 0; i < crowd_->items(); ++i) {
    by_size.push_back(i);
    total += crowd_->kind(i).hull_area;
  }
  std::stable_sort(by_size.begin(), by_size.end(), [this](std::size_t a, std::size_t b) {
    return crowd_->kind(a).hull_area > crowd_->kind(b).hull_area;
  });
  constexpr double large_share = 0.75;
  std::size_t large = 0;
  for (double sum = 0.0; large < by_size.size() && sum < large_share * total; ++large)
    sum += crowd_->kind(by_size[large]).hull_area;
  large = std::min(std::max<std::size_t>(large, 2), by_size.size());
  if (large < 2) return;
  const std::size_t a = by_size[separator_.random().below(large)];
  std::size_t b = a;
  for (int tries = 0; tries < 20 && (b == a || crowd_->world().items[a] == crowd_->world().items[b]);
       ++tries) {
    b = by_size[separator_.random().below(large)];
  }
  if (a != b) swap_places(a, b);
}

void Shortener::put(std::size_t item, std::size_t bin, Vec at) {
  const Spot wanted{crowd_->spot(item).stance, bin, at};
  if (const std::optional<Spot> fits = crowd_->inside(item, wanted)) crowd_->move(item, *fits);
}

void Shortener::swap_places(std::size_t a, std::size_t b) {
  const Spot from = crowd_->spot(a);
  const Spot to = crowd_->spot(b);
  put(a, to.bin, to.at);
  put(b, from.bin, from.at);
}

void Shortener::adopt(const Found& found) {
  crowd_->stretch_last(found.length_mm, found.length_mm);
  crowd_->restore(found.spots);
  crowd_->forget();
  failures_.clear();
}

void Shortener::compress(Budget& budget) {
  if (!best_) return;
  constexpr double first_share = 0.0005;
  constexpr double last_share = 0.00001;
  const auto given = static_cast<double>(std::max(1L, budget.passes));
  adopt(Found(*best_));
  while (budget.passes > 0 && !at_bound()) {
    const double left = static_cast<double>(budget.passes) / given;
    const double share = last_share + left * (first_share - last_share);
    const Found from = *best_;
    const double target = std::max(shortest_mm_, from.length_mm * (1.0 - share));
    crowd_->stretch_last(target, separator_.random().between(0.0, target));
    if (separator_.run(compressing, budget)) {
      keep();
    } else {
      adopt(from);
    }
  }
}

}  // namespace warmsheet::nesting
