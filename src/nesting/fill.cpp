// SPDX-License-Identifier: MIT
#include "nesting/fill.h"

#include <numeric>
#include <set>
#include <tuple>
#include <utility>

#include "nesting/separator.h"

namespace warmsheet::nesting {
namespace {

constexpr std::size_t most_stances_tried =
    8;  // of a piece that may be turned freely; the search tries them all

struct Laid {
  std::size_t stance;
  Vec at;
  double tilt_deg = 0.0;
};

/// One bin while it is filled: what lies in it, and which pieces are known not to fit any more.
struct OpenBin {
  BinUse use;
  std::vector<Laid> laid;
  std::set<std::size_t> full_for;
};

struct Try {
  double right;
  double top;
  std::size_t stance;
  Vec at;
};

class Filler {
 public:
  Filler(const Task& task, const Shapes& shapes) : task_(task), shapes_(shapes) {}

  [[nodiscard]] OpenBin open(const BinUse& use) const {
    OpenBin bin{use, {}, {}};
    for (const Ground& g : task_.stock[use.stock].ground) bin.laid.push_back({g.stance, g.at, g.tilt_deg});
    if (use.pin == no_pin) return bin;
    for (const Ground& g : task_.pinned[use.pin].pieces) bin.laid.push_back({g.stance, g.at, g.tilt_deg});
    return bin;
  }

  /// The lowest touching position, or nothing.
  [[nodiscard]] std::optional<Laid> find(const OpenBin& bin, std::size_t piece) const {
    std::vector<Try> tries;
    const std::vector<std::size_t>& stances = task_.kinds[piece].stances;
    const std::size_t skip = 1 + (stances.size() - 1) / most_stances_tried;
    for (std::size_t i = 0; i < stances.size(); i += skip) add_tries(bin, stances[i], tries);
    std::sort(tries.begin(), tries.end(), [](const Try& a, const Try& b) {
      return std::tie(a.right, a.top, a.stance) < std::tie(b.right, b.top, b.stance);
    });
    for (const Try& t : tries) {
      if (free(bin, t.stance, t.at)) return Laid{t.stance, t.at};
    }
    return std::nullopt;
  }

 private:
  void add_tries(const OpenBin& bin, std::size_t stance, std::vector<Try>& tries) const {
    const Room room = room_in(task_.stock[bin.use.stock].bin, shapes_.stances[stance].box);
    if (room.empty()) return;
    const Extent& box = shapes_.stances[stance].box;
    const auto add = [&](Vec at) {
      if (room.clamped(at) == at) tries.push_back({at.x + box.x1, at.y + box.y1, stance, at});
    };
    for (const double x : {room.low.x, room.high.x}) {
      for (const double y : {room.low.y, room.high.y}) add({x, y});
    }
    for (const Laid& other : bin.laid) {
      for (const Vec at : touching(stance, other)) {
        add(at);
        add({at.x, room.low.y});
        add({room.low.x, at.y});
      }
    }
  }

  [[nodiscard]] std::vector<Vec> touching(std::size_t stance, const Laid& other) const {
    const Stance& mine = shapes_.stances[stance];
    const Stance& theirs = shapes_.stances[other.stance];
    std::vector<Vec> places;
    if (mine.form <= theirs.form) {
      for (const Vec p : shapes_.field(stance, other.stance).corners())
        places.push_back(other.at - mine.turn(p));
    } else {
      for (const Vec p : shapes_.field(other.stance, stance).corners())
        places.push_back(other.at + theirs.turn(p));
    }
    return places;
  }

  [[nodiscard]] bool free(const OpenBin& bin, std::size_t stance, Vec at) const {
    const Extent& box = shapes_.stances[stance].grown;
    for (const Laid& other : bin.laid) {
      if (other.tilt_deg != 0.0) {
        if (tilted_loss(stance, at, other) > 0.0) return false;
        continue;
      }
      const Extent& theirs = shapes_.stances[other.stance].grown;
      if (at.x + box.x0 > other.at.x + theirs.x1 || at.x + box.x1 < other.at.x + theirs.x0) continue;
      if (at.y + box.y0 > other.at.y + theirs.y1 || at.y + box.y1 < other.at.y + theirs.y0) continue;
      if (shapes_.loss(stance, at, other.stance, other.at) > 0.0) return false;
    }
    return true;
  }

  [[nodiscard]] double tilted_loss(std::size_t stance, Vec at, const Laid& other) const {
    const Stance& theirs = shapes_.stances[other.stance];
    const Pose pose(shapes_.forms[theirs.form], turn_by(theirs.angle_deg + other.tilt_deg));
    return shapes_.loss(stance, shapes_.pose(stance), other.stance, pose, other.at - at);
  }

  const Task& task_;
  const Shapes& shapes_;
};

/// The copies of a unit from the largest to the smallest.
std::vector<std::size_t> largest_first(const Task& task, std::vector<std::size_t> copies) {
  const auto size = [&](std::size_t copy) {
    const Kind& kind = task.kinds[task.copies[copy].piece];
    return kind.hull_area * kind.diameter;
  };
  std::stable_sort(copies.begin(), copies.end(),
                   [&](std::size_t a, std::size_t b) { return size(a) > size(b); });
  return copies;
}

class SheetFiller {
 public:
  SheetFiller(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& stock_order)
      : task_(task), shapes_(shapes), filler_(task, shapes), stock_order_(stock_order) {
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
      const Kind& kind = task_.kinds[task_.copies[largest_first(task_, unit.copies).front()].piece];
      size.push_back(kind.hull_area * kind.diameter);
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
      const std::optional<Laid> found =
          bin.full_for.contains(piece) ? std::nullopt : filler_.find(bin, piece);
      if (!found) {
        if (bin.laid.size() == before) bin.full_for.insert(piece);
        bin.laid.resize(before);
        for (const std::size_t other : unit.copies) filling_.spots[other].reset();
        return false;
      }
      bin.laid.push_back(*found);
      filling_.spots[copy] = Spot{found->stance, index, found->at};
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
      bins_[index].laid.push_back({spot.stance, spot.at, spot.tilt_deg});
    }
    return true;
  }

  const Task& task_;
  const Shapes& shapes_;
  Filler filler_;
  const std::vector<std::size_t>& stock_order_;
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

Filling fill(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& stock_order) {
  return SheetFiller(task, shapes, stock_order).run();
}

std::optional<std::vector<Spot>> place_together(const Task& task, const Shapes& shapes,
                                                const std::vector<std::size_t>& copies, std::size_t stock) {
  const Filler filler(task, shapes);
  OpenBin bin = filler.open({stock, no_pin});
  std::vector<Spot> spots;
  for (const std::size_t copy : copies) {
    const std::optional<Laid> found = filler.find(bin, task.copies[copy].piece);
    if (!found) break;
    bin.laid.push_back(*found);
    spots.push_back({found->stance, 0, found->at});
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
