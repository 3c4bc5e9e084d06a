// SPDX-License-Identifier: MIT
#include "nesting/recombine.h"

#include <algorithm>
#include <limits>
#include <numeric>

namespace warmsheet::nesting {
namespace {

// Effort against gain, as warmsheet-bench shows it on orders of 10 to 200 pieces.
constexpr int rounds = 80;
constexpr double least_cost = 1e-9;

class Recombination {
 public:
  Recombination(const std::vector<Load>& loads, const Demand& demand)
      : loads_(loads), demand_(demand), values_(demand.areas) {}

  std::vector<Taken> run() {
    std::vector<Taken> best;
    double best_cost = std::numeric_limits<double>::infinity();
    for (int round = 0; round < rounds; ++round) {
      std::vector<Taken> made = cover();
      if (made.empty()) break;
      const double cost = cost_of(made);
      if (cost < best_cost) {
        best_cost = cost;
        best = made;
      }
      correct_values(made);
    }
    return best;
  }

 private:
  [[nodiscard]] double filled(const std::vector<std::pair<std::size_t, int>>& pieces) const {
    double area = 0.0;
    for (const auto& [piece, count] : pieces) area += demand_.areas[piece] * count;
    return area;
  }

  /// Of two covers with as many sheets, the one whose emptiest is emptier.
  [[nodiscard]] double cost_of(const std::vector<Taken>& cover) const {
    double cost = 0.0;
    double emptiest = 1.0;
    double cheapest = std::numeric_limits<double>::infinity();
    for (const Taken& taken : cover) {
      const Demand::Sheet& sheet = demand_.sheets[loads_[taken.load].stock];
      cost += sheet.cost;
      cheapest = std::min(cheapest, sheet.cost);
      emptiest = std::min(emptiest, filled(taken.pieces) / sheet.area);
    }
    return cost - 0.5 * (1.0 - emptiest) * cheapest;
  }

  std::vector<Taken> cover() const {
    std::vector<int> left = demand_.copies;
    std::vector<int> available;
    for (const Demand::Sheet& sheet : demand_.sheets) available.push_back(sheet.available);
    std::vector<Taken> cover;
    while (std::any_of(left.begin(), left.end(), [](int copies) { return copies > 0; })) {
      const std::size_t load = most_worth(left, available);
      if (load == loads_.size()) return {};
      take(load, left, available, cover);
    }
    return cover;
  }

  [[nodiscard]] std::size_t most_worth(const std::vector<int>& left,
                                       const std::vector<int>& available) const {
    std::size_t best = loads_.size();
    double best_worth = 0.0;
    for (std::size_t i = 0; i < loads_.size(); ++i) {
      const Demand::Sheet& sheet = demand_.sheets[loads_[i].stock];
      if (available[loads_[i].stock] <= 0) continue;
      double worth = 0.0;
      for (const auto& [piece, count] : loads_[i].pieces)
        worth += std::min(count, left[piece]) * values_[piece];
      worth /= std::max(sheet.cost, least_cost);
      if (worth <= best_worth) continue;
      best_worth = worth;
      best = i;
    }
    return best;
  }

  /// As often as the whole load is wanted, at least once.
  void take(std::size_t load, std::vector<int>& left, std::vector<int>& available,
            std::vector<Taken>& cover) const {
    int times = std::numeric_limits<int>::max();
    for (const auto& [piece, count] : loads_[load].pieces) times = std::min(times, left[piece] / count);
    times = std::clamp(times, 1, available[loads_[load].stock]);
    available[loads_[load].stock] -= times;
    for (; times > 0; --times) {
      Taken taken{load, {}};
      for (const auto& [piece, count] : loads_[load].pieces) {
        const int some = std::min(count, left[piece]);
        if (some > 0) taken.pieces.emplace_back(piece, some);
        left[piece] -= some;
      }
      cover.push_back(std::move(taken));
    }
  }

  void correct_values(const std::vector<Taken>& cover) {
    constexpr double trust = 0.25;  // in the latest round
    for (const Taken& taken : cover) {
      const double spread =
          demand_.sheets[loads_[taken.load].stock].area / std::max(filled(taken.pieces), 1e-9);
      for (const auto& [piece, count] : taken.pieces) {
        const double share = trust * count / std::max(1, demand_.copies[piece]);
        values_[piece] += share * (demand_.areas[piece] * spread - values_[piece]);
      }
    }
  }

  const std::vector<Load>& loads_;
  const Demand& demand_;
  std::vector<double> values_;
};

}  // namespace

std::vector<Taken> recombined(const std::vector<Load>& loads, const Demand& demand) {
  return Recombination(loads, demand).run();
}

}  // namespace warmsheet::nesting
