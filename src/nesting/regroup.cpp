// SPDX-License-Identifier: MIT
// Every move takes area from a sheet to one that is at least as full, so the sum of squares of the fillings
// grows and the moves come to an end. Moves that leave much room are tried before those that leave little.
#include "nesting/regroup.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "nesting/packer.h"
#include "nesting/recombine.h"
#include "nesting/team.h"

namespace warmsheet::nesting {
namespace {

constexpr std::size_t no_unit = std::numeric_limits<std::size_t>::max();
constexpr double fullest = 0.95;  // of a sheet: no true shapes come closer
constexpr double luck_scale =
    0.035;  // of a sheet: so much fuller, and a try is e times less likely to succeed
// Effort against gain, as warmsheet-bench shows it on orders of 10 to 200 pieces.
constexpr int first_tries = 8;  // that fail before a sheet is left alone for a while
constexpr int moves_between = 8;
constexpr int most_levels = 6;

/// A unit that leaves its sheet for another, and what comes back for it.
struct Move {
  std::size_t unit;
  std::size_t to;
  std::size_t back;  ///< or no_unit
  double worth;
};

class Regrouping {
 public:
  Regrouping(const Task& task, const Shapes& shapes, const Effort& effort, SheetPlan plan, Budget& budget)
      : task_(task), effort_(effort), packer_(task, shapes, effort), plan_(std::move(plan)), budget_(budget) {
    units_.resize(plan_.bins.size());
    for (std::size_t u = 0; u < task.units.size(); ++u) {
      double area = 0.0;
      for (const std::size_t copy : task.units[u].copies) area += area_of(copy);
      area_.push_back(area);
      const auto& spot = plan_.spots[task.units[u].copies.front()];
      if (spot) units_[spot->bin].push_back(u);
      loose_ = loose_ && task.units[u].copies.size() == 1 && task.units[u].pin == no_pin;
    }
    for (std::size_t bin = 0; bin < units_.size(); ++bin) remember(bin);
    charge_ = charge_of(task.copies.size());
  }

  SheetPlan run() {
    for (int level = 1; level <= most_levels && !budget_.phase_over(); ++level) {
      place_missing(level);
      concentrate(level);
      cheapen(level);
      if (loose_) recombine();
    }
    plan_.stopped = plan_.stopped || budget_.stopped();
    return std::move(plan_);
  }

 private:
  /// The more pieces, the more there is to win by regrouping and the less by squeezing the last sheet.
  static double charge_of(std::size_t items) {
    constexpr double few = 12.0;
    constexpr double least = 0.15;
    const auto n = static_cast<double>(std::max<std::size_t>(items, 1));
    return std::clamp(few / n, least, 1.0) / n;
  }

  [[nodiscard]] double area_of(std::size_t copy) const { return task_.kinds[task_.copies[copy].piece].area; }
  [[nodiscard]] double room_of(std::size_t bin) const { return task_.stock[plan_.bins[bin].stock].area; }
  [[nodiscard]] double cost_of(std::size_t bin) const { return task_.stock[plan_.bins[bin].stock].cost; }

  [[nodiscard]] double used(std::size_t bin) const {
    double area = 0.0;
    for (const std::size_t u : units_[bin]) area += area_[u];
    if (plan_.bins[bin].pin == no_pin) return area;
    // What is fixed there stays.
    for (const Spot& g : task_.pinned[plan_.bins[bin].pin].pieces) area += fixed_area(g);
    return area;
  }

  [[nodiscard]] double fixed_area(const Spot& g) const {
    for (const Kind& kind : task_.kinds) {
      if (std::find(kind.stances.begin(), kind.stances.end(), g.stance) != kind.stances.end())
        return kind.area;
    }
    return 0.0;
  }

  [[nodiscard]] bool open(std::size_t bin) const {
    return plan_.bins[bin].pin == no_pin && cost_of(bin) > 0.0;
  }

  /// The bin without some units and with others.
  [[nodiscard]] Pack pack_of(std::size_t bin, std::size_t without, std::size_t with) const {
    Pack pack{plan_.bins[bin], {}, {}};
    for (const std::size_t u : units_[bin]) {
      if (u == without) continue;
      for (const std::size_t copy : task_.units[u].copies) {
        pack.copies.push_back(copy);
        pack.hints.push_back(plan_.spots[copy]);
      }
    }
    if (with == no_unit) return pack;
    for (const std::size_t copy : task_.units[with].copies) {
      pack.copies.push_back(copy);
      pack.hints.emplace_back();
    }
    return pack;
  }

  void lay(std::size_t bin, const Pack& pack, const std::vector<Spot>& spots) {
    for (std::size_t i = 0; i < pack.copies.size(); ++i) {
      plan_.spots[pack.copies[i]] = spots[i];
      plan_.spots[pack.copies[i]]->bin = bin;
    }
  }

  [[nodiscard]] double worth(double gain, double filling) const {
    return gain * std::exp(-filling / luck_scale);
  }

  /// Moves off a bin, the most promising first.
  [[nodiscard]] std::vector<Move> moves_off(std::size_t from) const {
    std::vector<Move> moves;
    const double mine = used(from) / room_of(from);
    for (std::size_t to = 0; to < units_.size(); ++to) {
      const double theirs = used(to);
      // Kept offcuts are there to be filled; of equals the later one gives, so that nothing goes to and fro.
      const bool fuller = theirs / room_of(to) > mine || (theirs / room_of(to) == mine && to < from);
      if (to == from || units_[to].empty() || (cost_of(to) > 0.0 && !fuller)) continue;
      for (const std::size_t u : units_[from]) {
        if (task_.units[u].pin != no_pin) continue;
        consider(moves, u, to, no_unit, theirs);
        for (const std::size_t v : units_[to]) {
          if (task_.units[v].pin == no_pin && area_[v] < area_[u]) consider(moves, u, to, v, theirs);
        }
      }
    }
    std::stable_sort(moves.begin(), moves.end(),
                     [](const Move& a, const Move& b) { return a.worth > b.worth; });
    return moves;
  }

  void consider(std::vector<Move>& moves, std::size_t unit, std::size_t to, std::size_t back,
                double used_there) const {
    const double gain = area_[unit] - (back == no_unit ? 0.0 : area_[back]);
    const double filling = (used_there + gain) / room_of(to);
    if (filling > fullest || gain <= 0.0) return;
    moves.push_back({unit, to, back, worth(gain, filling)});
  }

  /// From the emptiest bin on, until no bin has a move that is found.
  void concentrate(int level) {
    std::vector<char> settled(units_.size(), 0);
    while (!budget_.phase_over()) {
      const std::optional<std::size_t> from = emptiest(settled);
      if (!from) return;
      if (!move_off(*from, level)) {
        settled[*from] = 1;
        continue;
      }
      settled.assign(units_.size(), 0);
      if (loose_ && ++moves_ % moves_between == 0 && recombine()) settled.assign(units_.size(), 0);
    }
  }

  [[nodiscard]] std::optional<std::size_t> emptiest(const std::vector<char>& settled) const {
    std::optional<std::size_t> best;
    for (std::size_t bin = 0; bin < units_.size(); ++bin) {
      if (settled[bin] != 0 || units_[bin].empty() || !open(bin)) continue;
      if (!best || used(bin) / cost_of(bin) < used(*best) / cost_of(*best)) best = bin;
    }
    return best;
  }

  /// Tries moves by pairs: two at a time keep two processors busy, and the first that works counts.
  bool move_off(std::size_t from, int level) {
    const std::vector<Move> moves = moves_off(from);
    const std::size_t at_once = workers_for(effort_);
    int left = first_tries << (level - 1);
    std::vector<Move> chosen;
    std::vector<Pack> packs;
    for (std::size_t i = 0; i < moves.size() && left > 0 && !budget_.phase_over(); ++i) {
      Pack pack = pack_of(moves[i].to, moves[i].back, moves[i].unit);
      if (!packer_.hopeless(pack, level)) {
        chosen.push_back(moves[i]);
        packs.push_back(std::move(pack));
      }
      if (packs.size() < at_once && i + 1 < moves.size()) continue;
      if (try_moves(from, chosen, packs, level)) return true;
      left -= static_cast<int>(packs.size());
      chosen.clear();
      packs.clear();
    }
    return false;
  }

  bool try_moves(std::size_t from, const std::vector<Move>& moves, const std::vector<Pack>& packs,
                 int level) {
    const auto found = packer_.pack(packs, level, charge_, budget_);
    tell();
    for (std::size_t i = 0; i < moves.size(); ++i) {
      if (!found[i]) continue;
      if (moves[i].back != no_unit && !take_back(from, moves[i], level)) continue;
      lay(moves[i].to, packs[i], *found[i]);
      shift(moves[i].unit, from, moves[i].to);
      if (moves[i].back != no_unit) shift(moves[i].back, moves[i].to, from);
      return true;
    }
    return false;
  }

  bool take_back(std::size_t from, const Move& move, int level) {
    const std::vector<Pack> packs{pack_of(from, move.unit, move.back)};
    const auto found = packer_.pack(packs, level, charge_, budget_);
    if (found.front()) lay(from, packs.front(), *found.front());
    return found.front().has_value();
  }

  void shift(std::size_t unit, std::size_t from, std::size_t to) {
    std::erase(units_[from], unit);
    units_[to].push_back(unit);
  }

  void remember(std::size_t bin) {
    if (units_[bin].empty()) return;
    const Pack pack = pack_of(bin, no_unit, no_unit);
    std::vector<Spot> spots;
    for (const std::size_t copy : pack.copies) {
      spots.push_back(*plan_.spots[copy]);
      spots.back().bin = 0;
    }
    packer_.remember(pack, spots);
  }

  /// The loads of sheets bought, exchanged for others that are known to fit, if that is cheaper in all.
  bool recombine() {
    Demand demand{std::vector<int>(task_.kinds.size(), 0), {}, {}};
    for (const Kind& kind : task_.kinds) demand.areas.push_back(kind.area);
    for (const StockPlan& stock : task_.stock)
      demand.sheets.push_back({stock.area, stock.cost, stock.available});
    double cost = 0.0;
    std::vector<std::vector<std::size_t>> units_of(task_.kinds.size());
    for (std::size_t bin = 0; bin < units_.size(); ++bin) {
      if (!open(bin) || units_[bin].empty()) continue;
      cost += cost_of(bin);
      for (const std::size_t u : units_[bin]) units_of[piece_of(u)].push_back(u);
    }
    for (std::size_t piece = 0; piece < units_of.size(); ++piece)
      demand.copies[piece] = static_cast<int>(units_of[piece].size());
    std::vector<Load> loads;
    std::vector<const Packer::Answer*> answers;
    for (const auto& [key, answer] : packer_.answers()) {
      if (key.pin != no_pin || task_.stock[key.stock].cost <= 0.0 || answer.spots.empty()) continue;
      loads.push_back({key.stock, counted(key.pieces)});
      answers.push_back(&answer);
    }
    const std::vector<Taken> cover = recombined(loads, demand);
    double new_cost = 0.0;
    for (const Taken& taken : cover) new_cost += task_.stock[loads[taken.load].stock].cost;
    if (cover.empty() || new_cost >= cost) return false;
    close_sheets();
    for (const Taken& taken : cover) open_with(loads[taken.load], *answers[taken.load], taken, units_of);
    return true;
  }

  [[nodiscard]] std::size_t piece_of(std::size_t unit) const {
    return task_.copies[task_.units[unit].copies.front()].piece;
  }

  static std::vector<std::pair<std::size_t, int>> counted(const std::vector<std::size_t>& pieces) {
    std::vector<std::pair<std::size_t, int>> counts;
    for (const std::size_t piece : pieces) {
      if (counts.empty() || counts.back().first != piece) counts.emplace_back(piece, 0);
      ++counts.back().second;
    }
    return counts;
  }

  void close_sheets() {
    for (std::size_t bin = 0; bin < units_.size(); ++bin) {
      if (open(bin)) units_[bin].clear();
    }
  }

  void open_with(const Load& load, const Packer::Answer& answer, const Taken& taken,
                 std::vector<std::vector<std::size_t>>& units_of) {
    const std::size_t bin = units_.size();
    plan_.bins.push_back({load.stock, no_pin});
    units_.emplace_back();
    std::size_t first = 0;  // of the load's spots for this piece
    auto some = taken.pieces.begin();
    for (const auto& [piece, count] : load.pieces) {
      for (int k = 0; some != taken.pieces.end() && some->first == piece && k < some->second; ++k) {
        const std::size_t unit = units_of[piece].back();
        units_of[piece].pop_back();
        units_[bin].push_back(unit);
        Spot& spot = plan_.spots[task_.units[unit].copies.front()].emplace(
            answer.spots[first + static_cast<std::size_t>(k)]);
        spot.bin = bin;
      }
      if (some != taken.pieces.end() && some->first == piece) ++some;
      first += static_cast<std::size_t>(count);
    }
  }

  /// Units that found no place where stock ran out, by priority.
  void place_missing(int level) {
    std::vector<std::size_t> missing;
    for (std::size_t u = 0; u < task_.units.size(); ++u) {
      if (!plan_.spots[task_.units[u].copies.front()]) missing.push_back(u);
    }
    std::stable_sort(missing.begin(), missing.end(), [&](std::size_t a, std::size_t b) {
      return std::pair(-task_.units[a].priority, -area_[a]) < std::pair(-task_.units[b].priority, -area_[b]);
    });
    for (const std::size_t u : missing) {
      if (budget_.phase_over()) return;
      place(u, level);
    }
  }

  void place(std::size_t unit, int level) {
    std::vector<std::size_t> bins(units_.size());
    std::iota(bins.begin(), bins.end(), std::size_t{0});
    std::stable_sort(bins.begin(), bins.end(), [&](std::size_t a, std::size_t b) {
      return used(a) / room_of(a) < used(b) / room_of(b);
    });
    for (const std::size_t bin : bins) {
      if (task_.units[unit].pin != no_pin && task_.units[unit].pin != plan_.bins[bin].pin) continue;
      if (used(bin) + area_[unit] > fullest * room_of(bin)) continue;
      const std::vector<Pack> packs{pack_of(bin, no_unit, unit)};
      const auto found = packer_.pack(packs, level, charge_, budget_);
      if (!found.front()) continue;
      lay(bin, packs.front(), *found.front());
      units_[bin].push_back(unit);
      return;
    }
  }

  /// A sheet's load on a cheaper kind of sheet, if one is left.
  void cheapen(int level) {
    for (std::size_t bin = 0; bin < units_.size(); ++bin) {
      if (units_[bin].empty() || !open(bin)) continue;
      for (std::size_t stock = 0; stock < task_.stock.size() && !budget_.phase_over(); ++stock) {
        if (task_.stock[stock].cost >= cost_of(bin) || !available(stock)) continue;
        if (used(bin) > fullest * task_.stock[stock].area) continue;
        std::vector<Pack> packs{pack_of(bin, no_unit, no_unit)};
        packs.front().use.stock = stock;
        packs.front().hints.assign(packs.front().copies.size(), std::nullopt);
        const auto found = packer_.pack(packs, level, charge_, budget_);
        if (!found.front()) continue;
        plan_.bins[bin].stock = stock;
        lay(bin, packs.front(), *found.front());
      }
    }
  }

  [[nodiscard]] bool available(std::size_t stock) const {
    int opened = 0;
    for (std::size_t bin = 0; bin < units_.size(); ++bin)
      opened +=
          plan_.bins[bin].stock == stock && plan_.bins[bin].pin == no_pin && !units_[bin].empty() ? 1 : 0;
    return opened < task_.stock[stock].available;
  }

  void tell() const {
    if (!effort_.progress) return;
    const auto filled =
        std::count_if(units_.begin(), units_.end(), [](const auto& units) { return !units.empty(); });
    effort_.progress({budget_.share(), static_cast<std::size_t>(filled), 0.0});
  }

  const Task& task_;
  const Effort& effort_;
  Packer packer_;
  SheetPlan plan_;
  Budget& budget_;
  std::vector<double> area_;                     // of each unit
  std::vector<std::vector<std::size_t>> units_;  // on each bin
  double charge_ = 1.0;                          // of one item's pass, in passes
  int moves_ = 0;
  bool loose_ = true;  // no unit is tied to others or to a sheet
};

}  // namespace

SheetPlan regroup(const Task& task, const Shapes& shapes, const Effort& effort, SheetPlan plan,
                  Budget& budget) {
  return Regrouping(task, shapes, effort, std::move(plan), budget).run();
}

}  // namespace warmsheet::nesting
