// SPDX-License-Identifier: MIT
#include "nesting/fill.h"

#include <numeric>
#include <set>
#include <tuple>
#include <utility>

#include "nesting/filler.h"
#include "nesting/separator.h"

namespace warmsheet::nesting {
namespace {

/// The copies of a unit from the largest to the smallest.
std::vector<std::size_t> largest_first(const Task& task, std::vector<std::size_t> copies) {
  const auto size = [&](std::size_t copy) { return task.kinds[task.copies[copy].piece].bulk(); };
  std::stable_sort(copies.begin(), copies.end(),
                   [&](std::size_t a, std::size_t b) { return size(a) > size(b); });
  return copies;
}

class SheetFiller {
 public:
  SheetFiller(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& stock_order, Way way)
      : task_(task), shapes_(shapes), filler_(task, shapes), stock_order_(stock_order), way_(way) {
    for (const StockPlan& stock : task.stock) left_.push_back(stock.available);
    for (std::size_t pin = 0; pin < task.pinned.size(); ++pin)
      bins_.push_back(filler_.open({task.pinned[pin].stock, pin}));
    filling_.spots.resize(task.copies.size());
  }

  Filling run() {
    for (const std::size_t unit : units_in_order()) lay(task_.units[unit]);
    for (const OpenBin& bin : bins_) filling_.bins.push_back(bin.use);
    return std::move(filling_);
  }

 private:
  /// By priority, then the one with the largest piece.
  [[nodiscard]] std::vector<std::size_t> units_in_order() const {
    std::vector<std::size_t> order(task_.units.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::vector<double> size;
    for (const Unit& unit : task_.units) {
      size.push_back(task_.kinds[task_.copies[largest_first(task_, unit.copies).front()].piece].bulk());
    }
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return std::pair(-task_.units[a].priority, -size[a]) < std::pair(-task_.units[b].priority, -size[b]);
    });
    return order;
  }

  void lay(const Unit& unit) {
    if (unit.pin != no_pin) {
      lay_in(unit.pin, unit);
      return;
    }
    for (std::size_t i = 0; i < bins_.size(); ++i) {
      if (lay_in(i, unit)) return;
    }
    for (const std::size_t stock : stock_order_) {
      if (left_[stock] > 0 && open_for(unit, stock)) return;
    }
  }

  bool lay_in(std::size_t index, const Unit& unit) {
    OpenBin& bin = bins_[index];
    const std::size_t before = bin.laid.size();
    for (const std::size_t copy : largest_first(task_, unit.copies)) {
      const std::size_t piece = task_.copies[copy].piece;
      std::optional<Spot> found =
          bin.full_for.contains(piece) ? std::nullopt : filler_.find(bin, piece, way_);
      if (!found) {
        if (bin.laid.size() == before) bin.full_for.insert(piece);
        bin.laid.resize(before);
        for (const std::size_t other : unit.copies) filling_.spots[other].reset();
        return false;
      }
      found->bin = index;
      bin.laid.push_back(*found);
      filling_.spots[copy] = found;
    }
    return true;
  }

  bool open_for(const Unit& unit, std::size_t stock) {
    double area = 0.0;
    for (const std::size_t copy : unit.copies) area += task_.kinds[task_.copies[copy].piece].area;
    if (area > task_.stock[stock].area) return false;
    const std::size_t index = bins_.size();
    bins_.push_back(filler_.open({stock, no_pin}));
    if (!lay_in(index, unit) && !lay_by_search(unit, index)) {
      bins_.pop_back();
      return false;
    }
    --left_[stock];
    return true;
  }

  bool lay_by_search(const Unit& unit, std::size_t index) {
    std::vector<std::size_t> pieces;
    for (const std::size_t copy : unit.copies) pieces.push_back(task_.copies[copy].piece);
    const std::pair key(bins_[index].use.stock, pieces);
    if (hopeless_.contains(key)) return false;
    const auto spots = place_together(task_, shapes_, unit.copies, bins_[index].use.stock);
    if (!spots) {
      hopeless_.insert(key);
      return false;
    }
    for (std::size_t i = 0; i < unit.copies.size(); ++i) {
      Spot spot = (*spots)[i];
      spot.bin = index;
      filling_.spots[unit.copies[i]] = spot;
      bins_[index].laid.push_back(spot);
    }
    return true;
  }

  const Task& task_;
  const Shapes& shapes_;
  Filler filler_;
  const std::vector<std::size_t>& stock_order_;
  Way way_;
  std::vector<int> left_;
  std::vector<OpenBin> bins_;
  std::set<std::pair<std::size_t, std::vector<std::size_t>>> hopeless_;
  Filling filling_;
};

/// Each copy in the first of its stances that fits, all at the corner; nothing if one fits in none.
std::optional<std::vector<Spot>> piled_up(const Task& task, const Shapes& shapes,
                                          const std::vector<std::size_t>& copies, const Bin& bin) {
  std::vector<Spot> spots;
  for (const std::size_t copy : copies) {
    const std::vector<std::size_t>& stances = task.kinds[task.copies[copy].piece].stances;
    const auto fits = [&](std::size_t s) { return !room_in(bin, shapes.stances[s].box).empty(); };
    const auto stance = std::find_if(stances.begin(), stances.end(), fits);
    if (stance == stances.end()) return std::nullopt;
    spots.push_back({*stance, 0, room_in(bin, shapes.stances[*stance].box).low});
  }
  return spots;
}

}  // namespace

Filling fill(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& stock_order, Way way) {
  return SheetFiller(task, shapes, stock_order, way).run();
}

std::optional<std::vector<Spot>> place_together(const Task& task, const Shapes& shapes,
                                                const std::vector<std::size_t>& copies, std::size_t stock) {
  const Filler filler(task, shapes);
  OpenBin bin = filler.open({stock, no_pin});
  std::vector<Spot> spots;
  for (const std::size_t copy : copies) {
    const std::optional<Spot> found = filler.find(bin, task.copies[copy].piece);
    if (!found) break;
    bin.laid.push_back(*found);
    spots.push_back(*found);
  }
  if (spots.size() == copies.size()) return spots;

  const std::vector<BinUse> uses{{stock, no_pin}};
  const World world = world_of(task, shapes, copies, uses);
  const auto start = piled_up(task, shapes, copies, task.stock[stock].bin);
  if (!start) return std::nullopt;
  Crowd crowd(world, bins_of(task, uses), *start);
  Effort little;
  little.passes = 300;
  Budget budget(little);
  constexpr Patience patience{100, 3};
  if (!Separator(crowd, Random(1)).run(patience, budget)) return std::nullopt;
  return crowd.spots();
}

}  // namespace warmsheet::nesting
