// SPDX-License-Identifier: MIT
#include "nesting/filler.h"

#include <algorithm>
#include <tuple>
#include <utility>

namespace warmsheet::nesting {
namespace {

constexpr std::size_t most_stances_tried =
    8;  // of a piece that may be turned freely; the search tries them all

void sort_by(Way way, std::vector<Try>& tries) {
  std::sort(tries.begin(), tries.end(), [way](const Try& a, const Try& b) {
    return way == Way::columns ? std::tie(a.right, a.top, a.stance) < std::tie(b.right, b.top, b.stance)
                               : std::tie(a.top, a.right, a.stance) < std::tie(b.top, b.right, b.stance);
  });
}

}  // namespace

OpenBin Filler::open(const BinUse& use) const {
  return {use, lying_on(task_, use), {}};
}

std::optional<Spot> Filler::find(const OpenBin& bin, std::size_t piece, Way way) const {
  std::vector<Try> tries;
  const std::vector<std::size_t>& stances = task_.kinds[piece].stances;
  const std::size_t skip = 1 + (stances.size() - 1) / most_stances_tried;
  for (std::size_t i = 0; i < stances.size(); i += skip) add_tries(bin, stances[i], tries);
  sort_by(way, tries);
  for (const Try& t : tries) {
    if (free(bin, t.stance, t.at)) return Spot{t.stance, 0, t.at};
  }
  return std::nullopt;
}

std::vector<Try> Filler::places(const OpenBin& bin, std::size_t stance, double right,
                                std::size_t most) const {
  std::vector<Try> tries;
  add_tries(bin, stance, tries);
  std::erase_if(tries, [&](const Try& t) { return t.right >= right; });
  sort_by(Way::columns, tries);
  std::vector<Try> found;
  for (const Try& t : tries) {
    if (found.size() == most) break;
    if (free(bin, stance, t.at) && (found.empty() || !(found.back().at == t.at))) found.push_back(t);
  }
  return found;
}

void Filler::add_tries(const OpenBin& bin, std::size_t stance, std::vector<Try>& tries) const {
  const Room room = room_in(task_.stock[bin.use.stock].bin, shapes_.stances[stance].box);
  if (room.empty()) return;
  const Extent& box = shapes_.stances[stance].box;
  const auto add = [&](Vec at) {
    if (room.clamped(at) == at) tries.push_back({at.x + box.x1, at.y + box.y1, stance, at});
  };
  for (const double x : {room.low.x, room.high.x}) {
    for (const double y : {room.low.y, room.high.y}) add({x, y});
  }
  for (const Spot& other : bin.laid) {
    for (const Vec at : touching(stance, other)) {
      add(at);
      add({at.x, room.low.y});
      add({room.low.x, at.y});
    }
  }
}

std::vector<Vec> Filler::touching(std::size_t stance, const Spot& other) const {
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

bool Filler::free(const OpenBin& bin, std::size_t stance, Vec at) const {
  const Extent& box = shapes_.stances[stance].grown;
  for (const Spot& other : bin.laid) {
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

double Filler::tilted_loss(std::size_t stance, Vec at, const Spot& other) const {
  const Stance& theirs = shapes_.stances[other.stance];
  const Pose pose(shapes_.forms[theirs.form], turn_by(theirs.angle_deg + other.tilt_deg));
  return shapes_.loss(stance, shapes_.pose(stance), other.stance, pose, other.at - at);
}

}  // namespace warmsheet::nesting
