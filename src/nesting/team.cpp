// SPDX-License-Identifier: MIT
#include "nesting/team.h"

#include "base/parallel.h"

namespace warmsheet::nesting {
namespace {

constexpr std::size_t usual_workers = 2;
constexpr std::size_t most_workers = 64;
constexpr long passes_between_meetings = 200;
constexpr double exploration_ends = 0.8;  // of the effort

}  // namespace

std::size_t workers_for(const Effort& effort) {
  if (!effort.time_share) return usual_workers;
  return std::clamp<std::size_t>(static_cast<std::size_t>(std::max(1, effort.threads)), 1, most_workers);
}

Team::Team(const Crowd& crowd, const Random& random, double shortest_mm, const Effort& effort,
           const Budget& spent)
    : effort_(effort) {
  for (std::size_t i = 0; i < workers_for(effort); ++i)
    workers_.push_back(std::make_unique<Worker>(crowd, random.fork(i), shortest_mm, spent));
}

std::optional<Found> Team::run() {
  phase(exploration_ends, &Shortener::start);
  if (!best_) return std::nullopt;
  phase(exploration_ends, &Shortener::explore);
  for (const auto& worker : workers_) worker->shortener.turn_to_compression();
  phase(1.0, &Shortener::compress);
  return best_;
}

void Team::phase(double until, void (Shortener::*step)(Budget&)) {
  for (const auto& worker : workers_) worker->budget.phase_until(until);
  const auto done = [&](const std::unique_ptr<Worker>& w) {
    return w->budget.phase_over() || w->shortener.at_bound();
  };
  const bool starting = step == &Shortener::start;
  while (std::none_of(workers_.begin(), workers_.end(), done)) {
    in_parallel(workers_.size(), effort_.threads, [&](std::size_t i) {
      Worker& worker = *workers_[i];
      worker.budget.slice(passes_between_meetings);
      (worker.shortener.*step)(worker.budget);
    });
    share_best();
    report();
    if (starting && best_) return;
  }
}

void Team::share_best() {
  for (const auto& worker : workers_) {
    const std::optional<Found>& found = worker->shortener.best();
    if (found && (!best_ || found->length_mm < best_->length_mm)) best_ = found;
  }
  if (!best_) return;
  for (const auto& worker : workers_) {
    Shortener& s = worker->shortener;
    const bool has_it = s.best() && s.best()->length_mm <= best_->length_mm;
    if (!has_it && (!s.best() || s.target_mm() >= best_->length_mm)) s.adopt(*best_);
  }
}

void Team::report() const {
  if (!effort_.progress) return;
  const Worker& first = *workers_.front();
  effort_.progress({first.budget.share(), first.shortener.bins(), best_ ? best_->length_mm : 0.0});
}

bool Team::stopped() const {
  return std::any_of(workers_.begin(), workers_.end(), [](const auto& w) { return w->budget.stopped(); });
}

std::uint64_t Team::evaluations() const {
  std::uint64_t sum = 0;
  for (const auto& worker : workers_) sum += worker->shortener.evaluations();
  return sum;
}

}  // namespace warmsheet::nesting
