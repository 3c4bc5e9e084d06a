// SPDX-License-Identifier: MIT
#include "nesting/face_up.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "nesting/form.h"

namespace warmsheet::nesting {
namespace {

constexpr double same_angle_deg = 1e-9;

/// Mirroring y after turning by a is turning by 180 - a after mirroring x.
double mirrored_deg(double angle_deg) {
  return std::fmod(540.0 - angle_deg, 360.0);
}

bool may_lie_at(const Rotations& rotations, double angle_deg) {
  return rotations.free ||
         std::any_of(rotations.angles_deg.begin(), rotations.angles_deg.end(), [&](double allowed_deg) {
           return std::abs(std::remainder(allowed_deg - angle_deg, 360.0)) < same_angle_deg;
         });
}

bool may_be_mirrored(const Order& order, const Placement& placement) {
  const Piece& piece = order.pieces[placement.piece];
  return piece.may_flip && may_lie_at(piece.rotations, mirrored_deg(placement.angle_deg));
}

bool is_fixed(const Order& order, const Placement& placement) {
  return std::any_of(order.fixed.begin(), order.fixed.end(), [&](const Placement& fixed) {
    return fixed.piece == placement.piece && fixed.copy == placement.copy;
  });
}

bool mostly_face_down(const std::vector<Placement*>& placements) {
  const auto down =
      std::count_if(placements.begin(), placements.end(), [](const Placement* p) { return p->flipped; });
  return 2 * static_cast<std::size_t>(down) > placements.size();
}

void mirror(const Order& order, const std::vector<Placement*>& placements) {
  double low_mm = std::numeric_limits<double>::infinity();
  double high_mm = -low_mm;
  for (const Placement* placement : placements) {
    const outline::Polygon shape = placed_shape(order, *placement);
    low_mm = std::min(low_mm, shape.box().low.y_mm);
    high_mm = std::max(high_mm, shape.box().high.y_mm);
  }
  for (Placement* placement : placements) {
    placement->angle_deg = mirrored_deg(placement->angle_deg);
    placement->flipped = !placement->flipped;
    placement->move.y_mm = low_mm + high_mm - placement->move.y_mm;
  }
}

}  // namespace

void turn_faces_up(const Order& order, Layout& layout) {
  std::vector<std::vector<Placement*>> on_sheet(layout.sheets.size());
  for (Placement& placement : layout.placements) on_sheet[placement.sheet].push_back(&placement);
  for (std::size_t sheet = 0; sheet < layout.sheets.size(); ++sheet) {
    const Stock& stock = order.stock[layout.sheets[sheet].stock];
    const bool free_to = is_rectangle(stock.shape) && stock.spoilt.empty() &&
                         std::all_of(on_sheet[sheet].begin(), on_sheet[sheet].end(), [&](const Placement* p) {
                           return may_be_mirrored(order, *p) && !is_fixed(order, *p);
                         });
    if (free_to && mostly_face_down(on_sheet[sheet])) mirror(order, on_sheet[sheet]);
  }
}

}  // namespace warmsheet::nesting
