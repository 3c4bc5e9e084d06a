// SPDX-License-Identifier: MIT
#include "nesting/nest.h"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>
#include <utility>

#include "nesting/bounds.h"
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
  if (least <= touching_mm) return "fits on no stock as it is shaped";
  return fmt::format(
      "larger than every sheet inside its margin, by at least {:.1f} mm, in each allowed rotation", least);
}

std::vector<bool> fitting(const Task& task, const Shapes& shapes) {
  std::vector<bool> fits(task.kinds.size(), false);
  for (std::size_t piece = 0; piece < task.kinds.size(); ++piece) {
    for (std::size_t stock = 0; stock < task.stock.size() && !fits[piece]; ++stock) {
      fits[piece] = task.stock[stock].available > 0 && place_alone(task, shapes, piece, stock).has_value();
    }
  }
  return fits;
}

class Report {
 public:
  Report(const Order& order, const Task& task, const Shapes& shapes, const SheetPlan& plan)
      : order_(order), task_(task), shapes_(shapes), plan_(plan) {}

  Layout layout() {
    for (const std::size_t stock : plan_.bin_stock) layout_.sheets.push_back({stock, 0.0, 0.0});
    for (std::size_t copy = 0; copy < plan_.spots.size(); ++copy) {
      if (plan_.spots[copy]) place(copy, *plan_.spots[copy]);
    }
    return std::move(layout_);
  }

 private:
  void place(std::size_t copy, const Spot& spot) {
    const Stance& stance = shapes_.stances[spot.stance];
    const Extent box = extent_turned(shapes_.forms[stance.form], turn_by(stance.angle_deg + spot.tilt_deg));
    const StockPlan& stock = task_.stock[plan_.bin_stock[spot.bin]];
    const Copy& which = task_.copies[copy];
    layout_.placements.push_back(placement_of(shapes_, which, spot, stock.corner));
    UsedSheet& sheet = layout_.sheets[spot.bin];
    const double end = spot.at.x + box.x1 + order_.margin_mm;
    sheet.used_length_mm = std::max(sheet.used_length_mm, std::min(end, stock.bin.length_mm));
    sheet.used_area_mm2 += task_.kinds[which.piece].area;
  }

  const Order& order_;
  const Task& task_;
  const Shapes& shapes_;
  const SheetPlan& plan_;
  Layout layout_;
};

}  // namespace

Layout nest(const Order& order, const Effort& effort) {
  refuse_nonsense(order);
  Task task = prepare(order);
  const Shapes shapes(std::move(task.forms), task.first_ground, task.stances, task.angles_deg);

  const std::vector<bool> fits = fitting(task, shapes);
  std::vector<std::string> unplaced;
  std::vector<Copy> copies;
  for (const Copy& copy : task.copies) {
    if (fits[copy.piece]) {
      copies.push_back(copy);
    } else {
      unplaced.push_back(fmt::format("{} copy {}: {}", order.pieces[copy.piece].name, copy.number + 1,
                                     too_large(task, shapes, copy.piece)));
    }
  }
  task.copies = std::move(copies);

  const SheetPlan plan = plan_sheets(task, shapes, effort);
  Layout layout = Report(order, task, shapes, plan).layout();
  std::vector<std::size_t> placed;
  for (std::size_t copy = 0; copy < task.copies.size(); ++copy) {
    if (plan.spots[copy]) {
      placed.push_back(copy);
    } else {
      unplaced.push_back(fmt::format("{} copy {}: no room left on the stock there is",
                                     order.pieces[task.copies[copy].piece].name,
                                     task.copies[copy].number + 1));
    }
  }
  layout.bound = sheets_bound(task, placed);
  layout.unplaced = std::move(unplaced);
  layout.stopped_early = plan.stopped;
  if (const std::vector<std::string> wrong = check(order, layout); !wrong.empty())
    throw std::logic_error("nesting: the layout found fails its check: " + wrong.front());
  return layout;
}

}  // namespace warmsheet::nesting
