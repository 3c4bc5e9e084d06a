// SPDX-License-Identifier: MIT
#include "nesting/nest.h"

namespace warmsheet::nesting {
namespace {

/// A rectangle, so that what lies behind the used length is one clean piece over the whole width.
bool full_width(const outline::Polygon& sheet) {
  return sheet.holes().empty() && sheet.outer().size() == 4 &&
         sheet.area_mm2() >= sheet.box().width_mm() * sheet.box().height_mm() * (1.0 - 1e-12);
}

}  // namespace

std::vector<Remnant> remnants(const Order& order, const Layout& layout) {
  std::vector<Remnant> left;
  for (std::size_t i = 0; i < layout.sheets.size(); ++i) {
    const outline::Polygon& sheet = order.stock[layout.sheets[i].stock].shape;
    const double length = sheet.box().width_mm() - layout.sheets[i].used_length_mm;
    if (length > 0.0 && full_width(sheet)) left.push_back({i, length, sheet.box().height_mm()});
  }
  return left;
}

}  // namespace warmsheet::nesting
