// SPDX-License-Identifier: MIT
#include "nesting/nest.h"

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <stdexcept>
#include <utility>

#include "nesting/bounds.h"
#include "nesting/face_up.h"
#include "nesting/refusal.h"
#include "nesting/sheets.h"

namespace warmsheet::nesting {
namespace {

/// By how much a piece misses the stock that takes it best, in words.
std::string too_large(const Task& task, const Shapes& shapes, std::size_t piece) {
  double least = std::numeric_limits<double>::infinity();
  for (const std::size_t stance : task.kinds[piece].stances) {
    const Extent& box = shapes.stances[stance].box;
    for (const StockPlan& stock : task.stock) {
      const double margins = 2.0 * stock.bin.margin_mm;
      least = std::min(least, std::max(box.width() + margins - stock.bin.length_mm,
                                       box.height() + margins - stock.bin.height_mm));
    }
  }
  if (least <= touching_mm)
    return "no place was found on any sheet, clear of spoilt zones, openings and edges";
  return fmt::format(
      "larger than every sheet inside its margin, by at least {:.1f} mm, in each allowed rotation", least);
}

std::vector<bool> fitting(const Task& task, const Shapes& shapes) {
  std::vector<bool> fits(task.kinds.size(), false);
  for (std::size_t copy = 0; copy < task.copies.size(); ++copy) {
    const std::size_t piece = task.copies[copy].piece;
    if (copy > 0 && task.copies[copy - 1].piece == piece) continue;
    for (std::size_t stock = 0; stock < task.stock.size() && !fits[piece]; ++stock)
      fits[piece] = place_together(task, shapes, {copy}, stock).has_value();
  }
  return fits;
}

/// A layout found earlier as a plan of this task; nothing if it is not sound for the order or not one of its
/// kind.
std::optional<SheetPlan> as_plan(const Order& order, const Task& task, const Shapes& shapes,
                                 const Layout* layout) {
  if (layout == nullptr || !check(order, *layout).empty()) return std::nullopt;
  std::map<std::pair<std::size_t, int>, std::size_t> copy_of;
  for (std::size_t copy = 0; copy < task.copies.size(); ++copy)
    copy_of[{task.copies[copy].piece, task.copies[copy].number}] = copy;
  SheetPlan plan{{}, std::vector<std::optional<Spot>>(task.copies.size()), false};
  for (const UsedSheet& sheet : layout->sheets) plan.bins.push_back({sheet.stock, no_pin});
  for (const Placement& p : layout->placements) {
    for (const Placement& fixed : order.fixed) {
      if (fixed.piece == p.piece && fixed.copy == p.copy) plan.bins[p.sheet].pin = fixed.sheet;
    }
    const auto copy = copy_of.find({p.piece, p.copy});
    if (copy == copy_of.end()) continue;
    std::optional<Spot> spot =
        spot_of(task, shapes.forms, p, task.stock[layout->sheets[p.sheet].stock].corner);
    if (!spot || (spot->tilt_deg != 0.0 && !task.kinds[p.piece].free)) return std::nullopt;
    spot->bin = p.sheet;
    plan.spots[copy->second] = *spot;
  }
  return plan;
}

class Report {
 public:
  Report(const Order& order, const Task& task, const Shapes& shapes, const SheetPlan& plan)
      : order_(order), task_(task), shapes_(shapes), plan_(plan) {}

  Layout layout() {
    for (const BinUse& use : plan_.bins) layout_.sheets.push_back({use.stock, 0.0, 0.0});
    for (std::size_t bin = 0; bin < plan_.bins.size(); ++bin) {
      if (plan_.bins[bin].pin != no_pin) add_fixed(bin, plan_.bins[bin].pin);
    }
    for (std::size_t copy = 0; copy < plan_.spots.size(); ++copy) {
      if (!plan_.spots[copy]) continue;
      const Spot& spot = *plan_.spots[copy];
      const Vec corner = task_.stock[plan_.bins[spot.bin].stock].corner;
      add(placement_of(shapes_, task_.copies[copy], spot, corner));
    }
    return std::move(layout_);
  }

 private:
  void add_fixed(std::size_t bin, std::size_t pin) {
    for (Placement fixed : order_.fixed) {
      if (fixed.sheet != pin) continue;
      fixed.sheet = bin;
      add(fixed);
    }
  }

  void add(const Placement& placement) {
    layout_.placements.push_back(placement);
    UsedSheet& sheet = layout_.sheets[placement.sheet];
    const outline::Box& box = order_.stock[sheet.stock].shape.box();
    const outline::Polygon shape = placed_shape(order_, placement);
    const double end = shape.box().high.x_mm - box.low.x_mm + order_.margin_mm;
    sheet.used_length_mm = std::max(sheet.used_length_mm, std::min(end, box.width_mm()));
    sheet.used_area_mm2 += shape.area_mm2();
  }

  const Order& order_;
  const Task& task_;
  const Shapes& shapes_;
  const SheetPlan& plan_;
  Layout layout_;
};

/// Takes the copies out of the task that fit on no stock, and says why.
std::vector<Unplaced> set_aside(Task& task, const Shapes& shapes) {
  const std::vector<bool> fits = fitting(task, shapes);
  std::vector<Unplaced> unplaced;
  std::vector<Copy> copies;
  for (const Copy& copy : task.copies) {
    if (fits[copy.piece]) {
      copies.push_back(copy);
    } else {
      unplaced.push_back({copy.piece, copy.number, too_large(task, shapes, copy.piece)});
    }
  }
  task.copies = std::move(copies);
  return unplaced;
}

void refuse_bad_fixed(const Order& order) {
  Layout fixed;
  for (const std::size_t stock : order.fixed_sheets) fixed.sheets.push_back({stock, 0.0, 0.0});
  fixed.placements = order.fixed;
  const std::vector<std::string> wrong = check_placements(order, fixed);
  if (wrong.empty()) return;
  throw Failure(Problem{Trouble::data,
                        {},
                        "the pieces that lie already do not lie well: " + wrong.front(),
                        "move them, or leave them free to be placed"});
}

}  // namespace

Layout nest(const Order& order, const Effort& effort) {
  refuse_nonsense(order);
  refuse_bad_fixed(order);
  Task task = prepare(order);
  const Shapes shapes(std::move(task.forms), task.first_ground, task.stances, task.angles_deg);
  group_units(task, order);
  std::vector<Unplaced> unplaced = set_aside(task, shapes);
  group_units(task, order);

  const SheetPlan plan = plan_sheets(task, shapes, effort, as_plan(order, task, shapes, effort.start));
  Layout layout = Report(order, task, shapes, plan).layout();
  turn_faces_up(order, layout);
  for (std::size_t copy = 0; copy < task.copies.size(); ++copy) {
    if (plan.spots[copy]) continue;
    const auto& [piece, number] = task.copies[copy];
    unplaced.push_back({piece, number,
                        order.pieces[piece].group.empty()
                            ? "no room left on the stock there is"
                            : "no sheet left that was found to take its whole group"});
  }
  layout.bound = sheets_bound(order, layout);
  layout.unplaced = std::move(unplaced);
  layout.shortest_mm = plan.shortest_mm;
  layout.stopped_early = plan.stopped;
  if (const std::vector<std::string> wrong = check(order, layout); !wrong.empty())
    throw std::logic_error("nesting: the layout found fails its check: " + wrong.front());
  return layout;
}

}  // namespace warmsheet::nesting
