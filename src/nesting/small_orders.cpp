// SPDX-License-Identifier: MIT
// A part of the order is a vector of copy counts, numbered in mixed radix. Its least rectangles (no other is
// both narrower and lower) come from splitting it in two parts put side by side or one on the other; this is
// the whole of guillotine cutting read upward. Kerfs as in guillotine.cpp.
#include "nesting/small_orders.h"

#include <algorithm>
#include <limits>
#include <numeric>
#include <utility>

#include "nesting/cut_tree.h"

namespace warmsheet::nesting {
namespace {

constexpr double most_parts = 1100.0;  // of the order: ten different blanks, or many copies of few

/// One least rectangle of a part of the order.
struct Least {
  Micrometres width;
  Micrometres height;
  enum class How { face, turned_face, across, along } how;
  std::size_t first;        // the blank, or the first part
  std::size_t second;       // the second part
  std::size_t first_least;  // which of the first part's rectangles
  std::size_t second_least;
};

class SmallOrder {
 public:
  SmallOrder(const std::vector<Blank>& blanks, const std::vector<SheetKind>& sheets, Micrometres kerf)
      : blanks_(blanks), sheets_(sheets), kerf_(kerf) {
    std::size_t radix = 1;
    for (const Blank& blank : blanks) {
      radix_.push_back(radix);
      radix *= static_cast<std::size_t>(blank.most) + 1;
    }
    least_.resize(radix);
    for (std::size_t part = 1; part < radix; ++part) build(part);
  }

  std::optional<std::vector<SheetCutting>> cheapest() {
    const std::size_t all = least_.size() - 1;
    if (all == 0) return std::vector<SheetCutting>{};
    plan_limited();
    plan_unlimited();
    const Step last = best_last(all);
    if (last.cost == std::numeric_limits<double>::infinity()) return std::nullopt;
    std::vector<SheetCutting> cuttings{cutting(last.taken, last.sheet)};
    stage_ = last.stage;
    for (std::size_t part = all - last.taken; part > 0;) part = append(part, cuttings);
    std::reverse(cuttings.begin(), cuttings.end());
    return cuttings;
  }

 private:
  /// How a part of the order is dealt with most cheaply: what is taken from one sheet, the rest by earlier
  /// steps.
  struct Step {
    double cost = std::numeric_limits<double>::infinity();
    int sheets = 0;  // that cost something
    std::size_t taken = 0;
    std::size_t sheet = 0;
    std::size_t stage = 0;  // limited sheets before this one may still be used for the rest
  };

  [[nodiscard]] int count(std::size_t part, std::size_t blank) const {
    return static_cast<int>(part / radix_[blank]) % (blanks_[blank].most + 1);
  }

  /// Calls `visit` for every part of the part, neither empty nor whole.
  template <typename Visit>
  void for_parts_of(std::size_t part, const Visit& visit) const {
    for (std::size_t sub = 1; sub < part; ++sub) {
      bool within = true;
      for (std::size_t b = 0; b < blanks_.size() && within; ++b) within = count(sub, b) <= count(part, b);
      if (within) visit(sub);
    }
  }

  void build(std::size_t part) {
    for (std::size_t b = 0; b < blanks_.size(); ++b) {
      if (part != radix_[b]) continue;
      const Micrometres w = blanks_[b].width + kerf_;
      const Micrometres h = blanks_[b].height + kerf_;
      add(part, {w, h, Least::How::face, b, 0, 0, 0});
      if (blanks_[b].may_turn) add(part, {h, w, Least::How::turned_face, b, 0, 0, 0});
    }
    for_parts_of(part, [&](std::size_t sub) {
      if (2 * sub > part) return;  // its counterpart was visited
      const std::size_t rest = part - sub;
      for (std::size_t i = 0; i < least_[sub].size(); ++i) {
        for (std::size_t k = 0; k < least_[rest].size(); ++k) combine(part, sub, rest, i, k);
      }
    });
  }

  void combine(std::size_t part, std::size_t sub, std::size_t rest, std::size_t i, std::size_t k) {
    const Least a = least_[sub][i];
    const Least b = least_[rest][k];
    add(part, {a.width + b.width, std::max(a.height, b.height), Least::How::across, sub, rest, i, k});
    add(part, {std::max(a.width, b.width), a.height + b.height, Least::How::along, sub, rest, i, k});
  }

  void add(std::size_t part, const Least& made) {
    const bool fits = std::any_of(sheets_.begin(), sheets_.end(), [&](const SheetKind& sheet) {
      return made.width <= sheet.width + kerf_ && made.height <= sheet.height + kerf_;
    });
    if (!fits) return;
    std::vector<Least>& known = least_[part];
    for (const Least& other : known) {
      if (other.width <= made.width && other.height <= made.height) return;
    }
    std::erase_if(
        known, [&](const Least& other) { return made.width <= other.width && made.height <= other.height; });
    known.push_back(made);
  }

  /// The narrowest rectangle of a part that fits on a sheet; npos if none does.
  [[nodiscard]] std::size_t narrowest(std::size_t part, const SheetKind& sheet) const {
    std::size_t best = none;
    for (std::size_t i = 0; i < least_[part].size(); ++i) {
      const Least& l = least_[part][i];
      if (l.width > sheet.width + kerf_ || l.height > sheet.height + kerf_) continue;
      if (best == none || l.width < least_[part][best].width) best = i;
    }
    return best;
  }

  /// Stage s: the first s single sheets (of limited kinds) may have been used.
  void plan_limited() {
    stages_.assign(1, std::vector<Step>(least_.size()));
    stages_[0][0].cost = 0.0;
    for (std::size_t kind = 0; kind < sheets_.size(); ++kind) {
      const int uses = std::min<int>(sheets_[kind].count, static_cast<int>(copies()));
      for (int use = 0; use < uses; ++use) add_stage(kind);
    }
  }

  [[nodiscard]] std::size_t copies() const {
    std::size_t sum = 0;
    for (const Blank& blank : blanks_) sum += static_cast<std::size_t>(blank.most);
    return sum;
  }

  /// Kept pieces cost nothing and do not count as sheets.
  [[nodiscard]] int paid(std::size_t kind) const { return sheets_[kind].cost > 0.0 ? 1 : 0; }

  void add_stage(std::size_t kind) {
    const std::size_t before = stages_.size() - 1;
    std::vector<Step> next(least_.size());
    for (std::size_t part = 0; part < least_.size(); ++part) {
      next[part] = stages_[before][part];
      try_sheet(part, kind, before, stages_[before], next[part]);
    }
    stages_.push_back(std::move(next));
  }

  void try_sheet(std::size_t part, std::size_t kind, std::size_t stage, const std::vector<Step>& rest_costs,
                 Step& best) {
    const auto take = [&](std::size_t taken) {
      if (narrowest(taken, sheets_[kind]) == none) return;
      const Step& rest = rest_costs[part - taken];
      const Step step{rest.cost + sheets_[kind].cost, rest.sheets + paid(kind), taken, kind, stage};
      if (std::pair(step.cost, step.sheets) < std::pair(best.cost, best.sheets)) best = step;
    };
    if (part == 0) return;
    for_parts_of(part, take);
    take(part);
  }

  /// The last stage: sheets without limit, on top of all limited ones.
  void plan_unlimited() {
    unlimited_ = stages_.back();
    for (std::size_t part = 1; part < least_.size(); ++part) {
      for (std::size_t kind = 0; kind < sheets_.size(); ++kind) {
        if (sheets_[kind].count < 0) try_sheet(part, kind, unlimited_stage, unlimited_, unlimited_[part]);
      }
    }
  }

  /// Among the cheapest plans of everything, the one whose last sheet is used least far.
  [[nodiscard]] Step best_last(std::size_t all) const {
    Step best = unlimited_[all];
    if (best.cost == std::numeric_limits<double>::infinity() || best.stage != unlimited_stage) return best;
    Micrometres shortest = least_[best.taken][narrowest(best.taken, sheets_[best.sheet])].width;
    const std::pair cheapest(best.cost, best.sheets);
    const auto take = [&](std::size_t taken) {
      for (std::size_t kind = 0; kind < sheets_.size(); ++kind) {
        if (sheets_[kind].count >= 0) continue;
        const std::size_t least = narrowest(taken, sheets_[kind]);
        if (least == none || least_[taken][least].width >= shortest) continue;
        const Step& rest = unlimited_[all - taken];
        if (std::pair(rest.cost + sheets_[kind].cost, rest.sheets + paid(kind)) > cheapest) continue;
        shortest = least_[taken][least].width;
        best = {cheapest.first, cheapest.second, taken, kind, unlimited_stage};
      }
    };
    for_parts_of(all, take);
    take(all);
    return best;
  }

  std::size_t append(std::size_t part, std::vector<SheetCutting>& cuttings) {
    const Step& step = stage_ == unlimited_stage ? unlimited_[part] : stages_[stage_][part];
    cuttings.push_back(cutting(step.taken, step.sheet));
    stage_ = step.stage;
    return part - step.taken;
  }

  [[nodiscard]] SheetCutting cutting(std::size_t part, std::size_t kind) const {
    const SheetKind& sheet = sheets_[kind];
    const std::size_t least = narrowest(part, sheet);
    CutPlanner plan(sheet.width, sheet.height, kerf_);
    describe(plan, 0, part, least);
    return {kind, plan.take()};
  }

  void describe(CutPlanner& plan, std::size_t slab, std::size_t part, std::size_t index) const {
    const Least& l = least_[part][index];
    if (l.how == Least::How::face || l.how == Least::How::turned_face) {
      plan.piece(slab, l.width, l.height, l.first, l.how == Least::How::turned_face);
      return;
    }
    const Least& one = least_[l.first][l.first_least];
    const auto [first, second] =
        l.how == Least::How::across ? plan.cut_across(slab, one.width) : plan.cut_along(slab, one.height);
    describe(plan, first, l.first, l.first_least);
    describe(plan, second, l.second, l.second_least);
  }

  static constexpr std::size_t none = std::numeric_limits<std::size_t>::max();
  static constexpr std::size_t unlimited_stage = none;

  const std::vector<Blank>& blanks_;
  const std::vector<SheetKind>& sheets_;
  Micrometres kerf_;
  std::vector<std::size_t> radix_;
  std::vector<std::vector<Least>> least_;
  std::vector<std::vector<Step>> stages_;
  std::vector<Step> unlimited_;
  std::size_t stage_ = unlimited_stage;
};

}  // namespace

bool is_small(const std::vector<Blank>& blanks) {
  double parts = 1.0;
  for (const Blank& blank : blanks) parts *= blank.most + 1.0;
  return parts <= most_parts;
}

std::optional<std::vector<SheetCutting>> cut_exactly(const std::vector<Blank>& blanks,
                                                     const std::vector<SheetKind>& sheets, Micrometres kerf) {
  return SmallOrder(blanks, sheets, kerf).cheapest();
}

}  // namespace warmsheet::nesting
