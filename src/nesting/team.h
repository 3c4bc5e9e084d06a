// SPDX-License-Identifier: MIT
// Several workers shorten the last bin side by side. They meet after equal numbers of passes, and whoever
// lags takes over the best layout; so the answer depends on the number of workers, never on the number of
// threads that run them.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "nesting/shortener.h"

namespace warmsheet::nesting {

/// Workers for an effort: a fixed number unless the caller's clock decides, when idle threads would be a
/// waste.
std::size_t workers_for(const Effort& effort);

class Team {
 public:
  Team(const Crowd& crowd, const Random& random, double shortest_mm, const Effort& effort,
       const Budget& spent);

  /// Explores, then squeezes, until the effort is spent; nothing if not even the start came apart.
  std::optional<Found> run();
  [[nodiscard]] bool stopped() const;
  [[nodiscard]] std::uint64_t evaluations() const;

 private:
  struct Worker {
    Worker(const Crowd& crowd, Random random, double shortest_mm, const Budget& spent)
        : shortener(crowd, random, shortest_mm), budget(spent) {}
    Shortener shortener;
    Budget budget;
  };

  void phase(double until, void (Shortener::*step)(Budget&));
  void share_best();
  void report() const;

  const Effort& effort_;
  std::vector<std::unique_ptr<Worker>> workers_;
  std::optional<Found> best_;
};

}  // namespace warmsheet::nesting
