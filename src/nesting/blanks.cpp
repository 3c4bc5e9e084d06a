// SPDX-License-Identifier: MIT
#include "nesting/blanks.h"

#include <fmt/format.h>

#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "base/dimension.h"
#include "base/problem.h"
#include "nesting/cut_tree.h"
#include "nesting/plane.h"
#include "nesting/refusal.h"
#include "nesting/small_orders.h"
#include "nesting/task.h"

namespace warmsheet::nesting {
namespace {

Micrometres up(double mm) {
  return static_cast<Micrometres>(std::ceil(mm * um_per_mm - 1e-6));
}
Micrometres down(double mm) {
  return static_cast<Micrometres>(std::floor(mm * um_per_mm + 1e-6));
}
double mm(Micrometres um) {
  return static_cast<double>(um) / um_per_mm;
}

/// The least rectangle has a side along an edge of the hull (Freeman and Shapira 1975).
std::vector<double> angles_to_try(const Rotations& rotations, const Loop& hull) {
  if (!rotations.free) return rotations.angles_deg;
  std::vector<double> angles{0.0, 90.0};
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Vec edge = hull[(i + 1) % hull.size()] - hull[i];
    const double along = -deg_of_rad(std::atan2(edge.y, edge.x));
    angles.push_back(along);
    angles.push_back(along + 90.0);
  }
  return angles;
}

bool may_turn(const Rotations& rotations) {
  if (rotations.free) return true;
  constexpr double same_angle = 1e-9;
  for (const double a : rotations.angles_deg) {
    for (const double b : rotations.angles_deg) {
      if (std::abs(std::remainder(a - b - 90.0, 180.0)) < same_angle) return true;
    }
  }
  return false;
}

class BlankPlanner {
 public:
  BlankPlanner(const Order& order, double kerf_mm) : order_(order), kerf_(up(kerf_mm)) {
    for (const Piece& piece : order.pieces) {
      const BlankSize size = blank_of(piece);
      blanks_.push_back({up(size.width_mm), up(size.height_mm), size.width_mm * size.height_mm, piece.copies,
                         may_turn(piece.rotations)});
    }
    add_sheets();
  }

  BlankPlan run() {
    drop_too_large();
    plan_.proven = is_small(blanks_) && try_exactly();
    if (!plan_.proven) fill_one_by_one();
    return std::move(plan_);
  }

 private:
  void add_sheets() {
    const std::vector<double> costs = stock_costs(order_);
    for (std::size_t i = 0; i < order_.stock.size(); ++i) {
      const Stock& stock = order_.stock[i];
      const outline::Box& box = stock.shape.box();
      const Micrometres width = down(box.width_mm() - 2.0 * order_.margin_mm);
      const Micrometres height = down(box.height_mm() - 2.0 * order_.margin_mm);
      if (!is_rectangle(stock.shape) || !stock.spoilt.empty() || width <= 0 || height <= 0) continue;
      sheets_.push_back({width, height, costs[i], stock.count});
      stock_of_.push_back(i);
    }
  }

  [[nodiscard]] bool fits(const Blank& blank, const SheetKind& sheet) const {
    return (blank.width <= sheet.width && blank.height <= sheet.height) ||
           (blank.may_turn && blank.height <= sheet.width && blank.width <= sheet.height);
  }

  void drop_too_large() {
    for (std::size_t b = 0; b < blanks_.size(); ++b) {
      bool takes = false;
      for (const SheetKind& sheet : sheets_) takes = takes || (sheet.count != 0 && fits(blanks_[b], sheet));
      if (takes) continue;
      name_unplaced(b, "its blank is larger than every unspoilt rectangular sheet inside its margin");
      blanks_[b].most = 0;
    }
  }

  /// Those that are left: blanks are numbered as they are cut.
  void name_unplaced(std::size_t blank, const char* reason) {
    const int copies = order_.pieces[blank].copies;
    for (int copy = copies - blanks_[blank].most; copy < copies; ++copy)
      plan_.unplaced.push_back({blank, copy, reason});
  }

  bool try_exactly() {
    const auto cuttings = cut_exactly(blanks_, sheets_, kerf_);
    if (!cuttings) return false;
    for (const SheetCutting& cutting : *cuttings) add_sheet(cutting.sheet, cutting.tree);
    return true;
  }

  /// The best single cutting for what is left, sheet after sheet.
  void fill_one_by_one() {
    std::vector<SheetKind> left = sheets_;
    while (std::any_of(blanks_.begin(), blanks_.end(), [](const Blank& b) { return b.most > 0; })) {
      std::optional<std::size_t> best;
      Cutting best_cutting;
      double best_worth = 0.0;
      for (std::size_t kind = 0; kind < left.size(); ++kind) {
        if (left[kind].count == 0) continue;
        Cutting cutting = cut_one(left[kind]);
        const double worth = cutting.value / std::max(left[kind].cost, std::numeric_limits<double>::min());
        if (cutting.value <= 0.0 || worth <= best_worth) continue;
        best = kind;
        best_worth = worth;
        best_cutting = std::move(cutting);
      }
      if (!best) break;
      if (left[*best].count > 0) --left[*best].count;
      for (const Slab& slab : best_cutting.tree) {
        if (slab.kind == Slab::Kind::piece) --blanks_[slab.blank].most;
      }
      add_sheet(*best, best_cutting.tree);
    }
    for (std::size_t b = 0; b < blanks_.size(); ++b)
      name_unplaced(b, "no room left on the unspoilt rectangular stock there is");
  }

  /// Sides are rounded up to whole millimetres, which keeps the programme's tables small; those that a sheet
  /// takes only as they are stay so.
  [[nodiscard]] Cutting cut_one(const SheetKind& sheet) const {
    constexpr Micrometres grid = 1000;
    constexpr std::size_t nodes_a_sheet = 4000;
    std::vector<Blank> coarse = blanks_;
    for (Blank& blank : coarse) {
      const Blank exact = blank;
      blank.width = (blank.width + kerf_ + grid - 1) / grid * grid - kerf_;
      blank.height = (blank.height + kerf_ + grid - 1) / grid * grid - kerf_;
      if (!fits(blank, sheet)) blank = exact;
    }
    return cut_limited(coarse, sheet.width, sheet.height, kerf_, nodes_a_sheet);
  }

  void add_sheet(std::size_t kind, const CutTree& tree) {
    BlankSheet sheet{stock_of_[kind], with_rest_cut_off(tree, kerf_), 0.0};
    for (const Slab& slab : tree) {
      if (slab.kind != Slab::Kind::piece) continue;
      sheet.used_length_mm = std::max(sheet.used_length_mm, mm(slab.x + slab.width) + 2.0 * order_.margin_mm);
      plan_.blank_area_mm2 += blanks_[slab.blank].value;
    }
    plan_.sheets.push_back(std::move(sheet));
  }

  const Order& order_;
  Micrometres kerf_;
  std::vector<Blank> blanks_;
  std::vector<SheetKind> sheets_;
  std::vector<std::size_t> stock_of_;
  BlankPlan plan_;
};

}  // namespace

BlankSize blank_of(const Piece& piece) {
  const Loop hull = convex_hull(region_of(piece.shape).outer);
  std::optional<BlankSize> best;
  for (const double angle : angles_to_try(piece.rotations, hull)) {
    const Turn turn = turn_by(angle);
    Extent extent;
    for (const Vec p : hull) extent.take(turn(p));
    const BlankSize size{extent.width(), extent.height(), angle};
    if (!best || size.width_mm * size.height_mm < best->width_mm * best->height_mm * (1.0 - 1e-12))
      best = size;
  }
  return *best;
}

BlankPlan cut_blanks(const Order& order, double kerf_mm) {
  refuse_nonsense(order);
  constexpr double widest_kerf_mm = 20.0;
  if (!(kerf_mm >= 0.0 && kerf_mm <= widest_kerf_mm))
    throw Failure(Problem{Trouble::data,
                          {},
                          fmt::format("the kerf is {} mm", kerf_mm),
                          fmt::format("it may be 0 to {} mm; a knife takes nothing away", widest_kerf_mm)});
  return BlankPlanner(order, kerf_mm).run();
}

bool is_cut(const CutTree& tree, const Slab& slab) {
  if (slab.kind != Slab::Kind::cut_across && slab.kind != Slab::Kind::cut_along) return false;
  const auto empty = [&](std::size_t part) { return tree[part].width <= 0 || tree[part].height <= 0; };
  return !empty(slab.first) && !empty(slab.second);
}

std::vector<KnifeCut> knife_cuts(const Order& order, const BlankPlan& plan) {
  std::vector<KnifeCut> cuts;
  for (std::size_t i = 0; i < plan.sheets.size(); ++i) {
    const outline::Point low = order.stock[plan.sheets[i].stock].shape.box().low;
    const auto at = [&](Micrometres x, Micrometres y) -> outline::Point {
      return {low.x_mm + order.margin_mm + mm(x), low.y_mm + order.margin_mm + mm(y)};
    };
    for (const Slab& slab : plan.sheets[i].tree) {
      if (!is_cut(plan.sheets[i].tree, slab)) continue;
      if (slab.kind == Slab::Kind::cut_across)
        cuts.push_back({i, at(slab.cut_at, slab.y), at(slab.cut_at, slab.y + slab.height)});
      if (slab.kind == Slab::Kind::cut_along)
        cuts.push_back({i, at(slab.x, slab.cut_at), at(slab.x + slab.width, slab.cut_at)});
    }
  }
  return cuts;
}

}  // namespace warmsheet::nesting
