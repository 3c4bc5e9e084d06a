// SPDX-License-Identifier: MIT
#include "nesting/form.h"
#include "nesting/nest.h"

namespace warmsheet::nesting {
std::vector<Remnant> remnants(const Order& order, const Layout& layout) {
  std::vector<Remnant> left;
  for (std::size_t i = 0; i < layout.sheets.size(); ++i) {
    const outline::Polygon& sheet = order.stock[layout.sheets[i].stock].shape;
    const double length = sheet.box().width_mm() - layout.sheets[i].used_length_mm;
    if (length > 0.0 && is_rectangle(sheet) && order.stock[layout.sheets[i].stock].spoilt.empty())
      left.push_back({i, length, sheet.box().height_mm()});
  }
  return left;
}

}  // namespace warmsheet::nesting
