// SPDX-License-Identifier: MIT
#include "plan/blank_cutting.h"

#include <map>
#include <utility>

#include "base/dimension.h"

namespace warmsheet::plan {
namespace {

/// A sheet opened: its stock and how far along it was used.
struct Opened {
  std::size_t stock;
  double used_length_mm;
};

Use use_of(const nesting::Order& order, const std::vector<Opened>& opened, double outlines_mm2,
           const std::vector<Figure>& inputs) {
  double sheets = 0.0;
  double area_mm2 = 0.0;
  const Opened* last = nullptr;
  for (const Opened& one : opened) {
    area_mm2 += order.stock[one.stock].shape.area_mm2();
    if (order.stock[one.stock].offcut) continue;
    sheets += 1.0;
    last = &one;
  }
  if (last != nullptr) {
    const outline::Box& box = order.stock[last->stock].shape.box();
    area_mm2 -= (box.width_mm() - last->used_length_mm) * box.height_mm();
  }
  const auto figure = [&](const char* name, double si, const Unit& unit, const char* how) {
    return Figure::derived(name, Range::exactly(si), unit, how, inputs);
  };
  const double waste_mm2 = area_mm2 - outlines_mm2;
  Finding used = Finding::absent(no_new_sheet);
  if (last != nullptr)
    used = figure("used_length", last->used_length_mm / mm_per_m, units::millimetre(),
                  "from the sheet's edge to the farthest cut on the last sheet, edge margin included");
  return {figure("sheets", sheets, units::one(), "new sheets opened; kept offcuts are not counted"),
          std::move(used),
          figure("area_cut_into", area_mm2 / mm2_per_m2, units::square_centimetre(),
                 "whole sheets and offcuts, of the last sheet its used length"),
          figure("waste", waste_mm2 / mm2_per_m2, units::square_centimetre(),
                 "sheet cut into that becomes no orthosis"),
          figure("waste_share", area_mm2 > 0.0 ? waste_mm2 / area_mm2 : 0.0, units::percent(),
                 "waste over the area of sheet cut into")};
}

class BlankLayer {
 public:
  BlankLayer(const nesting::Order& order, const nesting::BlankPlan& plan) : order_(order), plan_(plan) {}

  std::vector<LaidBlank> run() {
    for (std::size_t sheet = 0; sheet < plan_.sheets.size(); ++sheet)
      for (const nesting::Slab& slab : plan_.sheets[sheet].tree)
        if (slab.kind == nesting::Slab::Kind::piece) lay(sheet, slab);
    return std::move(laid_);
  }

 private:
  void lay(std::size_t sheet, const nesting::Slab& slab) {
    const nesting::Piece& piece = order_.pieces[slab.blank];
    const outline::Point corner = order_.stock[plan_.sheets[sheet].stock].shape.box().low;
    const auto mm = [](nesting::Micrometres um) { return static_cast<double>(um) / um_per_mm; };
    const outline::Point low{corner.x_mm + order_.margin_mm + mm(slab.x),
                             corner.y_mm + order_.margin_mm + mm(slab.y)};
    const double angle_deg = nesting::blank_of(piece).angle_deg + (slab.turned ? 90.0 : 0.0);
    const outline::Polygon turned = piece.shape.placed(angle_deg, {});
    const outline::Point from = turned.box().low;
    laid_.push_back({sheet,
                     slab.blank,
                     copies_[slab.blank]++,
                     {low, {low.x_mm + mm(slab.width), low.y_mm + mm(slab.height)}},
                     turned.placed(0.0, {low.x_mm - from.x_mm, low.y_mm - from.y_mm})});
  }

  const nesting::Order& order_;
  const nesting::BlankPlan& plan_;
  std::map<std::size_t, int> copies_;
  std::vector<LaidBlank> laid_;
};

/// Straight cuts stand a kerf apart and keep no room for scissors.
std::vector<Figure> inputs_of(const Cutting& cutting) {
  std::vector<Figure> inputs = cutting.sheets_used.rests_on();
  std::erase_if(inputs, [&](const Figure& input) { return input.same_node(cutting.spacing); });
  return inputs;
}

}  // namespace

BlankCutting cut_blanks(const Cutting& cutting, const Figure& kerf) {
  const nesting::Order& order = cutting.order;
  nesting::BlankPlan plan = nesting::cut_blanks(order, kerf.si() * mm_per_m);
  std::vector<nesting::KnifeCut> cuts = nesting::knife_cuts(order, plan);
  std::vector<LaidBlank> blanks = BlankLayer(order, plan).run();
  std::vector<Figure> inputs = inputs_of(cutting);
  inputs.push_back(kerf);
  std::vector<Opened> shaped;
  double shaped_mm2 = 0.0;
  for (const nesting::UsedSheet& sheet : cutting.layout.sheets)
    shaped.push_back({sheet.stock, sheet.used_length_mm});
  for (const nesting::Placement& p : cutting.layout.placements)
    shaped_mm2 += order.pieces[p.piece].shape.area_mm2();
  Use true_shape = use_of(order, shaped, shaped_mm2, cutting.sheets_used.rests_on());
  std::vector<Opened> straight;
  double straight_mm2 = 0.0;
  for (const nesting::BlankSheet& sheet : plan.sheets)
    straight.push_back({sheet.stock, sheet.used_length_mm});
  for (const LaidBlank& blank : blanks) straight_mm2 += blank.outline.area_mm2();
  Use cut = use_of(order, straight, straight_mm2, inputs);
  return {std::move(plan),   std::move(cuts), std::move(blanks),    kerf,
          std::move(inputs), std::move(cut),  std::move(true_shape)};
}

}  // namespace warmsheet::plan
