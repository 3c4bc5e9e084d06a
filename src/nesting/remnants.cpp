// SPDX-License-Identifier: MIT
#include <algorithm>

#include "nesting/form.h"
#include "nesting/nest.h"

namespace warmsheet::nesting {
namespace {

// A micrometre: less is what rounding left.
constexpr double least_rest_mm = 1e-3;

/// How far along the sheet something lies: pieces with their margin, or a spoilt zone.
double end_of_use(const Stock& stock, const UsedSheet& used) {
  double end = used.used_length_mm;
  for (const outline::Polygon& zone : stock.spoilt)
    end = std::max(end, zone.box().high.x_mm - stock.shape.box().low.x_mm);
  return end;
}

}  // namespace

std::vector<Remnant> remnants(const Order& order, const Layout& layout) {
  std::vector<Remnant> left;
  for (std::size_t i = 0; i < layout.sheets.size(); ++i) {
    const Stock& stock = order.stock[layout.sheets[i].stock];
    const outline::Polygon& sheet = stock.shape;
    const double length = sheet.box().width_mm() - end_of_use(stock, layout.sheets[i]);
    if (length > least_rest_mm && is_rectangle(sheet)) left.push_back({i, length, sheet.box().height_mm()});
  }
  return left;
}

}  // namespace warmsheet::nesting
