// SPDX-License-Identifier: MIT
#include "nesting/sheets.h"

#include <memory>
#include <numeric>
#include <tuple>
#include <utility>

#include "nesting/team.h"

namespace warmsheet::nesting {
namespace {

constexpr Patience for_fewer_sheets{100, 2};
constexpr std::size_t failures_before_dropping_ends = 8;
constexpr std::size_t failures_before_exchanging_ends = 1;
constexpr double reduction_share = 0.4;  // of the passes, at most, for fewer or cheaper sheets

class SheetSearch {
 public:
  SheetSearch(const Task& task, const Shapes& shapes, const Effort& effort)
      : task_(task), shapes_(shapes), effort_(effort), random_(effort.seed), budget_(effort) {}

  SheetPlan run() {
    plan_ = first_plan();
    for (std::size_t copy = 0; copy < plan_.spots.size(); ++copy) {
      if (plan_.spots[copy]) placed_.push_back(copy);
    }
    if (placed_.empty()) return plan_;
    budget_.phase_until(reduction_share);
    reduce();
    plan_.stopped = budget_.stopped();
    shorten();
    return plan_;
  }

 private:
  /// One worker's try to get the pieces apart on fewer or cheaper sheets.
  struct Attempt {
    Attempt(Crowd crowd, Random random, const Budget& spent)
        : pursuit(std::move(crowd), random), budget(spent) {
      pursuit.begin(for_fewer_sheets);
    }
    Pursuit pursuit;
    Budget budget;
  };

  [[nodiscard]] double cost(const std::vector<std::size_t>& bin_stock) const {
    double sum = 0.0;
    for (const std::size_t stock : bin_stock) sum += task_.stock[stock].cost;
    return sum;
  }

  [[nodiscard]] SheetPlan first_plan() const {
    std::vector<std::size_t> offcuts;
    std::vector<std::size_t> sheets;
    for (std::size_t i = 0; i < task_.stock.size(); ++i)
      (task_.stock[i].cost > 0.0 ? sheets : offcuts).push_back(i);
    std::stable_sort(offcuts.begin(), offcuts.end(),
                     [&](std::size_t a, std::size_t b) { return task_.stock[a].area < task_.stock[b].area; });
    std::stable_sort(sheets.begin(), sheets.end(),
                     [&](std::size_t a, std::size_t b) { return task_.stock[a].cost < task_.stock[b].cost; });
    std::optional<SheetPlan> best;
    for (std::size_t first = 0; first < std::max<std::size_t>(1, sheets.size()); ++first) {
      std::vector<std::size_t> order = offcuts;
      if (!sheets.empty()) order.push_back(sheets[first]);
      order.insert(order.end(), sheets.begin(), sheets.end());
      Filling filling = fill(task_, shapes_, order);
      SheetPlan plan{std::move(filling.bin_stock), std::move(filling.spots), false};
      if (!best || rank(plan) < rank(*best)) best = std::move(plan);
    }
    return *best;
  }

  [[nodiscard]] std::tuple<std::ptrdiff_t, double, std::size_t> rank(const SheetPlan& plan) const {
    const auto missing = std::count(plan.spots.begin(), plan.spots.end(), std::nullopt);
    return {missing, cost(plan.bin_stock), plan.bin_stock.size()};
  }

  [[nodiscard]] double area_in(std::size_t bin) const {
    double area = 0.0;
    for (const std::size_t copy : placed_) {
      if (plan_.spots[copy]->bin == bin) area += task_.kinds[task_.copies[copy].piece].area;
    }
    return area;
  }

  /// Bins from the least used to the fullest; kept offcuts are never given up for sheets.
  [[nodiscard]] std::vector<std::size_t> paid_bins() const {
    std::vector<std::size_t> bins;
    for (std::size_t bin = 0; bin < plan_.bin_stock.size(); ++bin) {
      if (task_.stock[plan_.bin_stock[bin]].cost > 0.0) bins.push_back(bin);
    }
    std::vector<double> used;
    for (std::size_t bin = 0; bin < plan_.bin_stock.size(); ++bin) used.push_back(area_in(bin));
    std::stable_sort(bins.begin(), bins.end(),
                     [&](std::size_t a, std::size_t b) { return used[a] < used[b]; });
    return bins;
  }

  /// Tries to place everything on these bins; what lay in a bin that is gone starts anywhere.
  /// \param from for each new bin, the bin it continues; npos if it is new
  bool try_bins(const std::vector<std::size_t>& bin_stock, const std::vector<std::size_t>& from,
                std::size_t most_failures) {
    double room = 0.0;
    double needed = 0.0;
    for (const std::size_t stock : bin_stock) room += task_.stock[stock].area;
    for (const std::size_t copy : placed_) needed += task_.kinds[task_.copies[copy].piece].area;
    if (needed > room) return false;
    const World world = world_of(task_, shapes_, placed_, bin_stock);
    const std::vector<Bin> bins = bins_of(task_, bin_stock);
    std::vector<std::unique_ptr<Attempt>> attempts;
    for (std::size_t i = 0; i < workers_for(effort_); ++i) {
      std::vector<Spot> spots;
      for (const std::size_t copy : placed_) {
        const std::optional<Spot> start = carried_over(copy, bins, from);
        if (!start) return false;
        spots.push_back(*start);
      }
      attempts.push_back(
          std::make_unique<Attempt>(Crowd(world, bins, spots), random_.fork(random_.next()), budget_));
    }
    const Attempt* done = pursue(attempts, most_failures);
    for (const auto& attempt : attempts) budget_.catch_up(attempt->budget);
    if (done == nullptr) return false;
    take(done->pursuit.crowd().spots(), bin_stock);
    return true;
  }

  /// The first attempt, in order, that comes apart in the same round as any does.
  const Attempt* pursue(const std::vector<std::unique_ptr<Attempt>>& attempts,
                        std::size_t most_failures) const {
    constexpr long passes_a_round = 200;
    for (;;) {
      in_parallel(attempts.size(), effort_.threads, [&](std::size_t i) {
        Attempt& attempt = *attempts[i];
        attempt.budget.slice(passes_a_round);
        while (attempt.pursuit.failures() <= most_failures &&
               attempt.pursuit.advance(attempt.budget) == Outcome::stuck) {
        }
      });
      bool going = true;
      for (const auto& attempt : attempts) {
        if (attempt->pursuit.crowd().apart()) return attempt.get();
        going = going && !attempt->budget.phase_over() && attempt->pursuit.failures() <= most_failures;
      }
      if (!going) return nullptr;
    }
  }

  std::optional<Spot> carried_over(std::size_t copy, const std::vector<Bin>& bins,
                                   const std::vector<std::size_t>& from) {
    const Spot& was = *plan_.spots[copy];
    for (std::size_t bin = 0; bin < bins.size(); ++bin) {
      if (from[bin] == was.bin) return Spot{was.stance, bin, was.at};
    }
    const std::vector<std::size_t>& stances = task_.kinds[task_.copies[copy].piece].stances;
    const std::size_t first_bin = random_.below(bins.size());
    const std::size_t first_stance = random_.below(stances.size());
    for (std::size_t b = 0; b < bins.size(); ++b) {
      for (std::size_t s = 0; s < stances.size(); ++s) {
        const std::size_t bin = (first_bin + b) % bins.size();
        const std::size_t stance = stances[(first_stance + s) % stances.size()];
        const Room room = room_in(bins[bin], shapes_.stances[stance].box);
        if (room.empty()) continue;
        const double x = random_.between(room.low.x, room.high.x);
        return Spot{stance, bin, {x, random_.between(room.low.y, room.high.y)}};
      }
    }
    return std::nullopt;
  }

  void take(const std::vector<Spot>& spots, const std::vector<std::size_t>& bin_stock) {
    plan_.bin_stock = bin_stock;
    for (std::size_t i = 0; i < placed_.size(); ++i) plan_.spots[placed_[i]] = spots[i];
    drop_empty();
  }

  void drop_empty() {
    std::vector<std::size_t> number(plan_.bin_stock.size(), 0);
    for (const std::size_t copy : placed_) number[plan_.spots[copy]->bin] = 1;
    std::vector<std::size_t> kept;
    for (std::size_t bin = 0; bin < number.size(); ++bin) {
      const bool used = number[bin] == 1;
      number[bin] = kept.size();
      if (used) kept.push_back(plan_.bin_stock[bin]);
    }
    for (const std::size_t copy : placed_) plan_.spots[copy]->bin = number[plan_.spots[copy]->bin];
    plan_.bin_stock = std::move(kept);
  }

  void reduce() {
    while (!budget_.phase_over() && (drop_one() || exchange_one())) {
    }
  }

  bool drop_one() {
    for (const std::size_t gone : paid_bins()) {
      std::vector<std::size_t> bin_stock;
      std::vector<std::size_t> from;
      for (std::size_t bin = 0; bin < plan_.bin_stock.size(); ++bin) {
        if (bin == gone) continue;
        bin_stock.push_back(plan_.bin_stock[bin]);
        from.push_back(bin);
      }
      if (bin_stock.empty()) return false;
      if (try_bins(bin_stock, from, failures_before_dropping_ends)) return true;
      if (budget_.phase_over()) return false;
      break;  // the least used bin is the likeliest to go; the others are as good as the search that just
              // failed
    }
    return false;
  }

  [[nodiscard]] int in_use(std::size_t stock) const {
    return static_cast<int>(std::count(plan_.bin_stock.begin(), plan_.bin_stock.end(), stock));
  }

  bool exchange_one() {
    for (const std::size_t changed : paid_bins()) {
      for (std::size_t stock = 0; stock < task_.stock.size(); ++stock) {
        if (budget_.phase_over()) return false;
        if (task_.stock[stock].cost >= task_.stock[plan_.bin_stock[changed]].cost) continue;
        if (in_use(stock) >= task_.stock[stock].available) continue;
        std::vector<std::size_t> bin_stock = plan_.bin_stock;
        bin_stock[changed] = stock;
        std::vector<std::size_t> from(bin_stock.size());
        std::iota(from.begin(), from.end(), std::size_t{0});
        from[changed] = bin_stock.size();
        if (try_bins(bin_stock, from, failures_before_exchanging_ends)) return true;
      }
    }
    return false;
  }

  void move_to_end(std::size_t last) {
    std::swap(plan_.bin_stock[last], plan_.bin_stock.back());
    const std::size_t end = plan_.bin_stock.size() - 1;
    for (const std::size_t copy : placed_) {
      std::size_t& bin = plan_.spots[copy]->bin;
      bin = bin == last ? end : bin == end ? last : bin;
    }
  }

  /// No layout with these bins has a shorter last one: the others cannot take more than their area, and a
  /// piece that fits on no other is at least as long as its shortest stance.
  [[nodiscard]] double shortest_last(const std::vector<Bin>& bins) const {
    const double margins = 2.0 * bins.back().margin_mm;
    double needed = 0.0;
    for (const std::size_t copy : placed_) needed += task_.kinds[task_.copies[copy].piece].area;
    for (std::size_t bin = 0; bin + 1 < bins.size(); ++bin) needed -= task_.stock[plan_.bin_stock[bin]].area;
    double shortest = 0.0;
    if (needed > 0.0) shortest = margins + needed / (bins.back().height_mm - margins);
    for (const std::size_t copy : placed_) {
      double narrowest = std::numeric_limits<double>::infinity();
      bool elsewhere = false;
      for (const std::size_t stance : task_.kinds[task_.copies[copy].piece].stances) {
        const Extent& box = shapes_.stances[stance].box;
        for (std::size_t bin = 0; bin + 1 < bins.size(); ++bin)
          elsewhere = elsewhere || !room_in(bins[bin], box).empty();
        if (!room_in(bins.back(), box).empty()) narrowest = std::min(narrowest, box.width());
      }
      if (!elsewhere) shortest = std::max(shortest, margins + narrowest);
    }
    return shortest;
  }

  void shorten() {
    const std::vector<std::size_t> paid = paid_bins();
    move_to_end(paid.empty() ? plan_.bin_stock.size() - 1 : paid.front());
    const World world = world_of(task_, shapes_, placed_, plan_.bin_stock);
    const std::vector<Bin> bins = bins_of(task_, plan_.bin_stock);
    std::vector<Spot> spots;
    for (const std::size_t copy : placed_) spots.push_back(*plan_.spots[copy]);
    Team team(Crowd(world, bins, spots), random_.fork(random_.next()), shortest_last(bins), effort_, budget_);
    if (const std::optional<Found> found = team.run()) take(found->spots, plan_.bin_stock);
    plan_.stopped = plan_.stopped || team.stopped();
  }

  const Task& task_;
  const Shapes& shapes_;
  const Effort& effort_;
  Random random_;
  Budget budget_;
  SheetPlan plan_;
  std::vector<std::size_t> placed_;
};

}  // namespace

SheetPlan plan_sheets(const Task& task, const Shapes& shapes, const Effort& effort) {
  return SheetSearch(task, shapes, effort).run();
}

}  // namespace warmsheet::nesting
