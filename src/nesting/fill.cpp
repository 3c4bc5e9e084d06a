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
};

/// One bin while it is filled: what lies in it, and which pieces are known not to fit any more.
struct OpenBin {
  std::size_t stock;
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

  [[nodiscard]] OpenBin open(std::size_t stock) const {
    OpenBin bin{stock, {}, {}};
    for (const Ground& ground : task_.stock[stock].ground) bin.laid.push_back({ground.stance, ground.at});
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
    const Room room = room_in(task_.stock[bin.stock].bin, shapes_.stances[stance].box);
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
      const Extent& theirs = shapes_.stances[other.stance].grown;
      if (at.x + box.x0 > other.at.x + theirs.x1 || at.x + box.x1 < other.at.x + theirs.x0) continue;
      if (at.y + box.y0 > other.at.y + theirs.y1 || at.y + box.y1 < other.at.y + theirs.y0) continue;
      if (shapes_.loss(stance, at, other.stance, other.at) > 0.0) return false;
    }
    return true;
  }

  const Task& task_;
  const Shapes& shapes_;
};

/// One copy's way into the bins already open, or into a new one.
std::optional<Spot> lay(const Task& task, const Filler& filler, std::vector<OpenBin>& bins, std::size_t piece,
                        const std::vector<std::size_t>& stock_order, std::vector<int>& left) {
  const auto try_bin = [&](std::size_t index) -> std::optional<Spot> {
    OpenBin& bin = bins[index];
    if (bin.full_for.contains(piece)) return std::nullopt;
    const std::optional<Laid> found = filler.find(bin, piece);
    if (!found) {
      bin.full_for.insert(piece);
      return std::nullopt;
    }
    bin.laid.push_back(*found);
    return Spot{found->stance, index, found->at};
  };
  for (std::size_t i = 0; i < bins.size(); ++i) {
    if (const std::optional<Spot> spot = try_bin(i)) return spot;
  }
  for (const std::size_t stock : stock_order) {
    if (left[stock] == 0) continue;
    if (task.kinds[piece].area > task.stock[stock].area) continue;
    bins.push_back(filler.open(stock));
    if (const std::optional<Spot> spot = try_bin(bins.size() - 1)) {
      --left[stock];
      return spot;
    }
    bins.pop_back();
  }
  return std::nullopt;
}

}  // namespace

Filling fill(const Task& task, const Shapes& shapes, const std::vector<std::size_t>& stock_order) {
  std::vector<std::size_t> order(task.copies.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const Kind& ka = task.kinds[task.copies[a].piece];
    const Kind& kb = task.kinds[task.copies[b].piece];
    return ka.hull_area * ka.diameter > kb.hull_area * kb.diameter;
  });
  std::vector<int> left;
  for (const StockPlan& stock : task.stock) left.push_back(stock.available);

  const Filler filler(task, shapes);
  std::vector<OpenBin> bins;
  Filling filling;
  filling.spots.resize(task.copies.size());
  for (const std::size_t copy : order)
    filling.spots[copy] = lay(task, filler, bins, task.copies[copy].piece, stock_order, left);
  for (const OpenBin& bin : bins) filling.bin_stock.push_back(bin.stock);
  return filling;
}

std::optional<Spot> place_alone(const Task& task, const Shapes& shapes, std::size_t piece,
                                std::size_t stock) {
  const Filler filler(task, shapes);
  if (const std::optional<Laid> found = filler.find(filler.open(stock), piece))
    return Spot{found->stance, 0, found->at};
  for (const std::size_t stance : task.kinds[piece].stances) {
    const Room room = room_in(task.stock[stock].bin, shapes.stances[stance].box);
    if (room.empty()) continue;
    const std::size_t copy =
        static_cast<std::size_t>(std::find_if(task.copies.begin(), task.copies.end(),
                                              [&](const Copy& c) { return c.piece == piece; }) -
                                 task.copies.begin());
    const World world = world_of(task, shapes, {copy}, {stock});
    Crowd crowd(world, bins_of(task, {stock}), {{stance, 0, room.clamped({})}});
    Effort little;
    little.passes = 100;
    Budget budget(little);
    if (Separator(crowd, Random(1)).run({}, budget)) return crowd.spot(0);
  }
  return std::nullopt;
}

}  // namespace warmsheet::nesting
