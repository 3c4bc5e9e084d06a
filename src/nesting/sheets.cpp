// SPDX-License-Identifier: MIT
#include "nesting/sheets.h"

#include <memory>
#include <numeric>
#include <tuple>
#include <utility>

#include "nesting/few.h"
#include "nesting/regroup.h"
#include "nesting/team.h"

namespace warmsheet::nesting {
namespace {

constexpr Patience for_fewer_sheets{60, 2};
constexpr std::size_t failures_before_dropping_ends = 8;
constexpr std::size_t failures_before_exchanging_ends = 1;
constexpr double regrouping_share = 0.4;  // of the effort, at most, for better filled sheets one by one
constexpr double reduction_share = 0.5;   // until then, for fewer or cheaper sheets all at once
constexpr std::size_t most_bins_at_once = 8;
constexpr std::size_t no_bin = std::numeric_limits<std::size_t>::max();

/// Other sheets for the same copies: for each new bin, the old bin it continues, or no_bin.
struct Change {
  std::vector<BinUse> bins;
  std::vector<std::size_t> from;
};

/// One worker's try to get the pieces apart on fewer or cheaper sheets.
struct Attempt {
  Attempt(Crowd crowd, Random random, const Budget& spent)
      : pursuit(std::move(crowd), random), budget(spent) {
    pursuit.begin(for_fewer_sheets);
  }
  Pursuit pursuit;
  Budget budget;
};

class SheetSearch {
 public:
  SheetSearch(const Task& task, const Shapes& shapes, const Effort& effort)
      : task_(task), shapes_(shapes), effort_(effort), random_(effort.seed), budget_(effort) {}

  SheetPlan run(const std::optional<SheetPlan>& start) {
    plan_ = first_plan();
    if (start && rank(*start) <= rank(plan_)) plan_ = *start;
    drop_empty();
    if (plan_.bins.empty()) return plan_;
    budget_.phase_until(regrouping_share);
    plan_ = regroup(task_, shapes_, effort_, std::move(plan_), budget_);
    drop_empty();
    for (std::size_t copy = 0; copy < plan_.spots.size(); ++copy) {
      if (plan_.spots[copy]) placed_.push_back(copy);
    }
    if (placed_.empty()) return plan_;
    budget_.phase_until(reduction_share);
    reduce();
    shorten();
    return plan_;
  }

 private:
  [[nodiscard]] double area_of(std::size_t copy) const { return task_.kinds[task_.copies[copy].piece].area; }

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
      for (const Way way : {Way::columns, Way::rows}) {
        Filling filling = fill(task_, shapes_, order, way);
        SheetPlan plan{std::move(filling.bins), std::move(filling.spots), false};
        if (!best || rank(plan) < rank(*best)) best = std::move(plan);
      }
    }
    return *best;
  }

  /// Copies without a place, then cost, then sheets paid for.
  [[nodiscard]] std::tuple<std::ptrdiff_t, double, std::ptrdiff_t> rank(const SheetPlan& plan) const {
    double cost = 0.0;
    for (const BinUse& use : plan.bins) cost += task_.stock[use.stock].cost;
    const auto paid = std::count_if(plan.bins.begin(), plan.bins.end(),
                                    [&](const BinUse& use) { return task_.stock[use.stock].cost > 0.0; });
    return {std::count(plan.spots.begin(), plan.spots.end(), std::nullopt), cost, paid};
  }

  /// Bins that cost something, from the least used to the fullest.
  [[nodiscard]] std::vector<std::size_t> paid_bins() const {
    std::vector<double> used(plan_.bins.size(), 0.0);
    for (const std::size_t copy : placed_) used[plan_.spots[copy]->bin] += area_of(copy);
    std::vector<std::size_t> bins;
    for (std::size_t bin = 0; bin < plan_.bins.size(); ++bin) {
      if (task_.stock[plan_.bins[bin].stock].cost > 0.0) bins.push_back(bin);
    }
    std::stable_sort(bins.begin(), bins.end(),
                     [&](std::size_t a, std::size_t b) { return used[a] < used[b]; });
    return bins;
  }

  /// Those that no piece is fixed on.
  [[nodiscard]] std::vector<std::size_t> open_bins() const {
    std::vector<std::size_t> bins = paid_bins();
    std::erase_if(bins, [this](std::size_t bin) { return plan_.bins[bin].pin != no_pin; });
    return bins;
  }

  void reduce() {
    if (plan_.bins.size() > most_bins_at_once) return;
    while (!budget_.phase_over() && (drop_one() || exchange_one())) {
    }
    plan_.stopped = budget_.stopped();
  }

  /// The least used bin is the likeliest to go; the others are as good as the search that fails on it.
  bool drop_one() {
    const std::vector<std::size_t> open = open_bins();
    if (open.empty() || plan_.bins.size() < 2) return false;
    Change change;
    for (std::size_t bin = 0; bin < plan_.bins.size(); ++bin) {
      if (bin == open.front()) continue;
      change.bins.push_back(plan_.bins[bin]);
      change.from.push_back(bin);
    }
    return try_change(change, failures_before_dropping_ends);
  }

  bool exchange_one() {
    for (const std::size_t changed : open_bins()) {
      for (std::size_t stock = 0; stock < task_.stock.size(); ++stock) {
        if (budget_.phase_over()) return false;
        if (task_.stock[stock].cost >= task_.stock[plan_.bins[changed].stock].cost) continue;
        if (opened(stock) >= task_.stock[stock].available) continue;
        Change change{plan_.bins, std::vector<std::size_t>(plan_.bins.size())};
        std::iota(change.from.begin(), change.from.end(), std::size_t{0});
        change.bins[changed] = {stock, no_pin};
        change.from[changed] = no_bin;
        if (try_change(change, failures_before_exchanging_ends)) return true;
      }
    }
    return false;
  }

  [[nodiscard]] int opened(std::size_t stock) const {
    return static_cast<int>(std::count_if(plan_.bins.begin(), plan_.bins.end(), [&](const BinUse& use) {
      return use.stock == stock && use.pin == no_pin;
    }));
  }

  bool try_change(const Change& change, std::size_t most_failures) {
    double room = 0.0;
    double needed = 0.0;
    for (const BinUse& use : change.bins) room += task_.stock[use.stock].area;
    for (const std::size_t copy : placed_) needed += area_of(copy);
    if (needed > room) return false;
    const World world = world_of(task_, shapes_, placed_, change.bins);
    const std::vector<Bin> bins = bins_of(task_, change.bins);
    std::vector<std::unique_ptr<Attempt>> attempts;
    for (std::size_t i = 0; i < workers_for(effort_); ++i) {
      const std::optional<std::vector<Spot>> spots = carried_over(bins, change);
      if (!spots) return false;
      attempts.push_back(
          std::make_unique<Attempt>(Crowd(world, bins, *spots), random_.fork(random_.next()), budget_));
    }
    const Attempt* done = pursue(attempts, most_failures);
    for (const auto& attempt : attempts) budget_.catch_up(attempt->budget);
    if (done == nullptr) return false;
    take(done->pursuit.crowd().spots(), change.bins);
    return true;
  }

  /// The first attempt, in order, of those that come apart in the same round.
  const Attempt* pursue(const std::vector<std::unique_ptr<Attempt>>& attempts,
                        std::size_t most_failures) const {
    constexpr long passes_a_round = 100;
    for (;;) {
      in_parallel(attempts.size(), effort_.threads, [&](std::size_t i) {
        Attempt& attempt = *attempts[i];
        attempt.budget.slice(passes_a_round);
        while (attempt.pursuit.failures() <= most_failures &&
               attempt.pursuit.advance(attempt.budget) == Outcome::stuck) {
        }
      });
      if (effort_.progress) effort_.progress({attempts.front()->budget.share(), plan_.bins.size(), 0.0});
      bool going = true;
      for (const auto& attempt : attempts) {
        if (attempt->pursuit.crowd().apart()) return attempt.get();
        going = going && !attempt->budget.phase_over() && attempt->pursuit.failures() <= most_failures;
      }
      if (!going) return nullptr;
    }
  }

  /// Each unit where it was if its bin goes on, else in a random bin that takes it, anywhere.
  std::optional<std::vector<Spot>> carried_over(const std::vector<Bin>& bins, const Change& change) {
    std::vector<std::optional<Spot>> spots(task_.copies.size());
    for (const Unit& unit : task_.units) {
      if (!plan_.spots[unit.copies.front()]) continue;
      const std::size_t was = plan_.spots[unit.copies.front()]->bin;
      const auto goes_on = std::find(change.from.begin(), change.from.end(), was);
      if (goes_on != change.from.end()) {
        for (const std::size_t copy : unit.copies) {
          spots[copy] = plan_.spots[copy];
          spots[copy]->bin = static_cast<std::size_t>(goes_on - change.from.begin());
        }
      } else if (!scatter(unit, bins, spots)) {
        return std::nullopt;
      }
    }
    std::vector<Spot> placed;
    for (const std::size_t copy : placed_) placed.push_back(*spots[copy]);
    return placed;
  }

  bool scatter(const Unit& unit, const std::vector<Bin>& bins, std::vector<std::optional<Spot>>& spots) {
    const std::size_t first = random_.below(bins.size());
    for (std::size_t k = 0; k < bins.size(); ++k) {
      const std::size_t bin = (first + k) % bins.size();
      bool all = true;
      for (const std::size_t copy : unit.copies) {
        spots[copy] = anywhere(copy, bins[bin], bin);
        all = all && spots[copy].has_value();
      }
      if (all) return true;
    }
    return false;
  }

  std::optional<Spot> anywhere(std::size_t copy, const Bin& bin, std::size_t index) {
    const std::vector<std::size_t>& stances = task_.kinds[task_.copies[copy].piece].stances;
    const std::size_t first = random_.below(stances.size());
    for (std::size_t s = 0; s < stances.size(); ++s) {
      const std::size_t stance = stances[(first + s) % stances.size()];
      const Room room = room_in(bin, shapes_.stances[stance].box);
      if (room.empty()) continue;
      const double x = random_.between(room.low.x, room.high.x);
      return Spot{stance, index, {x, random_.between(room.low.y, room.high.y)}, 0.0};
    }
    return std::nullopt;
  }

  void take(const std::vector<Spot>& spots, const std::vector<BinUse>& bins) {
    plan_.bins = bins;
    for (std::size_t i = 0; i < placed_.size(); ++i) plan_.spots[placed_[i]] = spots[i];
    drop_empty();
  }

  void drop_empty() {
    std::vector<char> used;
    for (const BinUse& use : plan_.bins) used.push_back(use.pin != no_pin ? 1 : 0);
    for (const auto& spot : plan_.spots) {
      if (spot) used[spot->bin] = 1;
    }
    std::vector<std::size_t> number(used.size());
    std::vector<BinUse> kept;
    for (std::size_t bin = 0; bin < used.size(); ++bin) {
      number[bin] = kept.size();
      if (used[bin] != 0) kept.push_back(plan_.bins[bin]);
    }
    for (auto& spot : plan_.spots) {
      if (spot) spot->bin = number[spot->bin];
    }
    plan_.bins = std::move(kept);
  }

  void move_to_end(std::size_t last) {
    const std::size_t end = plan_.bins.size() - 1;
    std::swap(plan_.bins[last], plan_.bins[end]);
    for (const std::size_t copy : placed_) {
      std::size_t& bin = plan_.spots[copy]->bin;
      bin = bin == last ? end : bin == end ? last : bin;
    }
  }

  /// No layout with these bins has a shorter last one: the others cannot take more than their area, what is
  /// fixed there stays, and a piece that cannot go elsewhere is at least as long as its shortest stance.
  [[nodiscard]] double shortest_last(const World& world, const std::vector<Bin>& bins) const {
    const std::size_t last = bins.size() - 1;
    const double margins = 2.0 * bins[last].margin_mm;
    double needed = 0.0;
    for (const std::size_t copy : placed_) needed += area_of(copy);
    for (std::size_t bin = 0; bin < last; ++bin) needed -= task_.stock[plan_.bins[bin].stock].area;
    double shortest = fixed_end(last);
    if (needed > 0.0) shortest = std::max(shortest, margins + needed / (bins[last].height_mm - margins));
    for (std::size_t i = 0; i < placed_.size(); ++i) {
      const bool held = world.stays[i] != 0 && plan_.spots[placed_[i]]->bin == last;
      if (!held && (world.stays[i] != 0 || fits_before(placed_[i], bins))) continue;
      shortest = std::max(shortest, margins + narrowest(placed_[i], bins[last]));
    }
    return shortest;
  }

  [[nodiscard]] double fixed_end(std::size_t bin) const {
    const BinUse& use = plan_.bins[bin];
    if (use.pin == no_pin) return 0.0;
    double end = 0.0;
    for (const Ground& g : task_.pinned[use.pin].pieces) {
      const Stance& stance = shapes_.stances[g.stance];
      const Extent box = extent_turned(shapes_.forms[stance.form], turn_by(stance.angle_deg + g.tilt_deg));
      end = std::max(end, g.at.x + box.x1 + task_.stock[use.stock].bin.margin_mm);
    }
    return end;
  }

  [[nodiscard]] bool fits_before(std::size_t copy, const std::vector<Bin>& bins) const {
    for (const std::size_t stance : task_.kinds[task_.copies[copy].piece].stances) {
      for (std::size_t bin = 0; bin + 1 < bins.size(); ++bin) {
        if (!room_in(bins[bin], shapes_.stances[stance].box).empty()) return true;
      }
    }
    return false;
  }

  [[nodiscard]] double narrowest(std::size_t copy, const Bin& bin) const {
    double width = bin.length_mm - 2.0 * bin.margin_mm;
    for (const std::size_t stance : task_.kinds[task_.copies[copy].piece].stances) {
      const Extent& box = shapes_.stances[stance].box;
      if (!room_in(bin, box).empty()) width = std::min(width, box.width());
    }
    return width;
  }

  void shorten() {
    const std::vector<std::size_t> open = open_bins();
    const std::vector<std::size_t> paid = paid_bins();
    move_to_end(!open.empty() ? open.front() : !paid.empty() ? paid.front() : plan_.bins.size() - 1);
    place_few();
    const World world = world_of(task_, shapes_, placed_, plan_.bins);
    const std::vector<Bin> bins = bins_of(task_, plan_.bins);
    std::vector<Spot> spots;
    for (const std::size_t copy : placed_) spots.push_back(*plan_.spots[copy]);
    plan_.shortest_mm = shortest_last(world, bins);
    const Crowd crowd(world, bins, spots);
    // A layout that was given may touch where the search's own forms, which are a little larger, overlap.
    if (!crowd.apart()) return;
    Team team(crowd, random_.fork(random_.next()), plan_.shortest_mm, effort_, budget_);
    if (const std::optional<Found> found = team.run()) take(found->spots, plan_.bins);
    plan_.stopped = plan_.stopped || team.stopped();
    settle_last();
  }

  /// The copies on the last bin, and where.
  [[nodiscard]] std::vector<std::size_t> on_last() const {
    std::vector<std::size_t> copies;
    for (const std::size_t copy : placed_) {
      if (plan_.spots[copy]->bin + 1 == plan_.bins.size()) copies.push_back(copy);
    }
    return copies;
  }

  void lay_last(const std::vector<std::size_t>& copies, const std::vector<Spot>& spots) {
    for (std::size_t i = 0; i < copies.size(); ++i) {
      plan_.spots[copies[i]] = spots[i];
      plan_.spots[copies[i]]->bin = plan_.bins.size() - 1;
    }
  }

  void place_few() {
    const std::vector<std::size_t> copies = on_last();
    if (copies.size() > most_of_few || budget_.stopped()) return;
    double length = 0.0;
    for (const std::size_t copy : copies) length = std::max(length, end_of(*plan_.spots[copy]));
    if (const auto spots = shortest_of_few(task_, shapes_, plan_.bins.back(), copies, length))
      lay_last(copies, *spots);
  }

  [[nodiscard]] double end_of(const Spot& spot) const {
    const Stance& stance = shapes_.stances[spot.stance];
    const Extent box = extent_turned(shapes_.forms[stance.form], turn_by(stance.angle_deg + spot.tilt_deg));
    return spot.at.x + box.x1 + task_.stock[plan_.bins[spot.bin].stock].bin.margin_mm;
  }

  void settle_last() {
    const std::vector<std::size_t> copies = on_last();
    std::vector<Spot> spots;
    for (const std::size_t copy : copies) spots.push_back(*plan_.spots[copy]);
    close_gaps(task_, shapes_, plan_.bins.back(), copies, spots);
    lay_last(copies, spots);
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

SheetPlan plan_sheets(const Task& task, const Shapes& shapes, const Effort& effort,
                      const std::optional<SheetPlan>& start) {
  return SheetSearch(task, shapes, effort).run(start);
}

}  // namespace warmsheet::nesting
