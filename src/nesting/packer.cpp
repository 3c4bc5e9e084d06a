// SPDX-License-Identifier: MIT
#include "nesting/packer.h"

#include <algorithm>
#include <numeric>

#include "base/parallel.h"
#include "nesting/pursuit.h"

namespace warmsheet::nesting {
namespace {

// Effort against gain, as warmsheet-bench shows it on orders of 10 to 200 pieces.
constexpr Patience patience{20, 1};
constexpr std::size_t failures_a_level = 1;
constexpr long most_passes_a_level = 60;

std::uint64_t mixed(std::uint64_t seed, std::uint64_t value) {
  return Random(seed + value).next();
}

}  // namespace

Packer::Key Packer::key_of(const Task& task, const Pack& pack, std::vector<std::size_t>& order) {
  order.resize(pack.copies.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto piece = [&](std::size_t i) { return task.copies[pack.copies[i]].piece; };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return piece(a) < piece(b); });
  Key key{pack.use.stock, pack.use.pin, {}};
  for (const std::size_t i : order) key.pieces.push_back(piece(i));
  return key;
}

void Packer::remember(const Pack& pack, const std::vector<Spot>& spots) {
  std::vector<std::size_t> order;
  Answer& answer = known_[key_of(task_, pack, order)];
  answer = {0, {}};
  for (const std::size_t i : order) answer.spots.push_back(spots[i]);
}

bool Packer::hopeless(const Pack& pack, int level) const {
  std::vector<std::size_t> order;
  const auto known = known_.find(key_of(task_, pack, order));
  return known != known_.end() && known->second.spots.empty() && known->second.level >= level;
}

std::optional<std::vector<Spot>> Packer::first_spots(const Pack& pack, Random& random) const {
  const Bin& bin = task_.stock[pack.use.stock].bin;
  std::vector<Spot> spots;
  for (std::size_t i = 0; i < pack.copies.size(); ++i) {
    if (pack.hints[i]) {
      spots.push_back(*pack.hints[i]);
      spots.back().bin = 0;
      continue;
    }
    const std::vector<std::size_t>& stances = task_.kinds[task_.copies[pack.copies[i]].piece].stances;
    const std::size_t first = random.below(stances.size());
    bool found = false;
    for (std::size_t s = 0; s < stances.size() && !found; ++s) {
      const std::size_t stance = stances[(first + s) % stances.size()];
      const Room room = room_in(bin, shapes_.stances[stance].box);
      if (room.empty()) continue;
      const double x = random.between(room.low.x, room.high.x);
      spots.push_back({stance, 0, {x, random.between(room.low.y, room.high.y)}});
      found = true;
    }
    if (!found) return std::nullopt;
  }
  return spots;
}

Packer::Search Packer::search(const Pack& pack, const Key& key, int level, const Budget& budget) const {
  std::uint64_t seed = mixed(effort_.seed, static_cast<std::uint64_t>(level));
  for (const std::size_t piece : key.pieces) seed = mixed(seed, piece);
  Random random(mixed(seed, key.stock));
  const auto start = first_spots(pack, random);
  Search result;
  if (!start) return result;
  const std::vector<BinUse> uses{pack.use};
  const World world = world_of(task_, shapes_, pack.copies, uses);
  Pursuit pursuit(Crowd(world, bins_of(task_, uses), *start), random);
  pursuit.begin(patience);
  Budget mine = budget;
  const double before = mine.used();
  mine.slice(most_passes_a_level * level);
  const std::size_t most_failures = failures_a_level * static_cast<std::size_t>(level);
  while (pursuit.failures() < most_failures && !mine.over()) {
    if (pursuit.advance(mine) == Outcome::stuck) continue;
    break;
  }
  result.passes = mine.used() - before;
  result.stopped = mine.stopped();
  if (pursuit.crowd().apart()) result.spots = pursuit.crowd().spots();
  return result;
}

std::vector<std::optional<std::vector<Spot>>> Packer::pack(const std::vector<Pack>& packs, int level,
                                                           double charge, Budget& budget) {
  std::vector<std::vector<std::size_t>> orders(packs.size());
  std::vector<Key> keys;
  for (std::size_t i = 0; i < packs.size(); ++i) keys.push_back(key_of(task_, packs[i], orders[i]));
  std::vector<std::size_t> open;
  for (std::size_t i = 0; i < packs.size(); ++i) {
    const auto known = known_.find(keys[i]);
    const bool answered =
        known != known_.end() && (!known->second.spots.empty() || known->second.level >= level);
    if (!answered && std::find(keys.begin(), keys.begin() + static_cast<std::ptrdiff_t>(i), keys[i]) ==
                         keys.begin() + static_cast<std::ptrdiff_t>(i))
      open.push_back(i);
  }
  std::vector<Search> found(open.size());
  in_parallel(open.size(), effort_.threads,
              [&](std::size_t i) { found[i] = search(packs[open[i]], keys[open[i]], level, budget); });
  for (std::size_t i = 0; i < open.size(); ++i) {
    const double share = static_cast<double>(packs[open[i]].copies.size()) * charge;
    budget.charge(found[i].passes * share, found[i].stopped);
    Answer answer{level, {}};
    for (const std::size_t k : orders[open[i]])
      if (!found[i].spots.empty()) answer.spots.push_back(found[i].spots[k]);
    known_[keys[open[i]]] = std::move(answer);
  }
  std::vector<std::optional<std::vector<Spot>>> answers;
  for (std::size_t i = 0; i < packs.size(); ++i) {
    const std::vector<Spot>& spots = known_.at(keys[i]).spots;
    answers.emplace_back();
    if (spots.empty()) continue;
    answers.back().emplace(spots.size());
    for (std::size_t k = 0; k < spots.size(); ++k) (*answers.back())[orders[i][k]] = spots[k];
  }
  return answers;
}

}  // namespace warmsheet::nesting
