// SPDX-License-Identifier: MIT
#include "nesting/sheets.h"

#include <numeric>
#include <tuple>
#include <utility>

#include "nesting/bounds.h"
#include "nesting/few.h"
#include "nesting/regroup.h"
#include "nesting/team.h"

namespace warmsheet::nesting {
namespace {

constexpr double regrouping_share = 0.7;  // of the effort, at most; a single sheet needs none of it

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
    shorten();
    return plan_;
  }

 private:
  [[nodiscard]] const Kind& kind_of(std::size_t copy) const { return task_.kinds[task_.copies[copy].piece]; }

  SheetPlan first_plan() {
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
        if (best && !budget_.spend()) return *best;
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
    for (const std::size_t copy : placed_) used[plan_.spots[copy]->bin] += kind_of(copy).area;
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

  /// No layout with these bins has a shorter last one: the others cannot take more than their capacity, what
  /// is fixed there stays, and a piece that cannot go elsewhere is at least as long as its shortest turn.
  [[nodiscard]] double shortest_last(const World& world, const std::vector<Bin>& bins) const {
    const std::size_t last = bins.size() - 1;
    double needed = 0.0;
    for (const std::size_t copy : placed_) needed += kind_of(copy).claim;
    for (std::size_t bin = 0; bin < last; ++bin) needed -= task_.stock[plan_.bins[bin].stock].capacity;
    double shortest = std::max(fixed_end(last), longest_held(world, bins, Turns::all));
    if (needed > 0.0) shortest = std::max(shortest, length_for(needed, bins[last], task_.spacing_mm));
    return shortest;
  }

  /// Of those a piece may take, or only those that are searched.
  enum class Turns { all, searched };

  /// What the longest piece needs that cannot leave the last bin: alone, as it is searched, or at all.
  [[nodiscard]] double longest_held(const World& world, const std::vector<Bin>& bins, Turns turns) const {
    const std::size_t last = bins.size() - 1;
    double longest = 0.0;
    for (std::size_t i = 0; i < placed_.size(); ++i) {
      const Kind& kind = kind_of(placed_[i]);
      // Parts of one orthosis may go elsewhere together, unless some of them lie here already.
      const bool tied = world.stays[i] != 0 && (turns == Turns::searched || pinned(placed_[i]));
      const bool held = tied ? plan_.spots[placed_[i]]->bin == last : !fits_before(kind, bins, turns);
      if (held) longest = std::max(longest, 2.0 * bins[last].margin_mm + narrowest(kind, bins[last], turns));
    }
    return longest;
  }

  [[nodiscard]] bool pinned(std::size_t copy) const {
    return std::any_of(task_.units.begin(), task_.units.end(), [&](const Unit& unit) {
      return unit.pin != no_pin &&
             std::find(unit.copies.begin(), unit.copies.end(), copy) != unit.copies.end();
    });
  }

  [[nodiscard]] double fixed_end(std::size_t bin) const {
    const BinUse& use = plan_.bins[bin];
    double end = 0.0;
    if (use.pin == no_pin) return end;
    for (const Spot& spot : task_.pinned[use.pin].pieces) end = std::max(end, end_of(spot, use));
    return end;
  }

  /// From the sheet's edge, with the margin behind.
  [[nodiscard]] double end_of(const Spot& spot, const BinUse& use) const {
    return box_of(shapes_, spot).x1 + task_.stock[use.stock].bin.margin_mm;
  }

  [[nodiscard]] bool fits_before(const Kind& kind, const std::vector<Bin>& bins, Turns turns) const {
    for (std::size_t bin = 0; bin + 1 < bins.size(); ++bin) {
      const double side = std::min(bins[bin].length_mm, bins[bin].height_mm) - 2.0 * bins[bin].margin_mm;
      if (turns == Turns::all && kind.free && kind.least_width <= side + touching_mm) return true;
      for (const std::size_t stance : kind.stances)
        if (!room_in(bins[bin], shapes_.stances[stance].box).empty()) return true;
    }
    return false;
  }

  [[nodiscard]] double narrowest(const Kind& kind, const Bin& bin, Turns turns) const {
    if (turns == Turns::all && kind.free) return kind.least_width;
    double width = bin.length_mm - 2.0 * bin.margin_mm;
    for (const std::size_t stance : kind.stances) {
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
    const double least_mm = std::max(plan_.shortest_mm, longest_held(world, bins, Turns::searched));
    Team team(crowd, random_.fork(random_.next()), least_mm, effort_, budget_);
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
    for (const std::size_t copy : copies)
      length = std::max(length, end_of(*plan_.spots[copy], plan_.bins.back()));
    if (const auto spots = shortest_of_few(task_, shapes_, plan_.bins.back(), copies, length))
      lay_last(copies, *spots);
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
