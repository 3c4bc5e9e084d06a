// SPDX-License-Identifier: MIT
#include "nesting/cutting_order.h"

#include <algorithm>
#include <utility>

namespace warmsheet::nesting {
namespace {

struct Laid {
  std::size_t placement;
  outline::Polygon shape;
  bool done = false;
};

/// Shapes of a sound layout never cross, so one point decides.
bool lies_in_opening(const Laid& inner, const Laid& host) {
  for (const outline::Ring& hole : host.shape.holes())
    if (outline::ring_holds(hole, inner.shape.outer().front())) return true;
  return false;
}

/// What lies in its openings first, then the outline itself.
void take(Laid& laid, std::vector<Laid>& all, std::vector<std::size_t>& order) {
  laid.done = true;
  for (Laid& other : all)
    if (!other.done && lies_in_opening(other, laid)) take(other, all, order);
  order.push_back(laid.placement);
}

}  // namespace

std::vector<std::size_t> cutting_order(const Order& order, const Layout& layout, std::size_t sheet) {
  std::vector<Laid> all;
  for (std::size_t i = 0; i < layout.placements.size(); ++i)
    if (layout.placements[i].sheet == sheet) all.push_back({i, placed_shape(order, layout.placements[i])});
  std::stable_sort(all.begin(), all.end(), [](const Laid& a, const Laid& b) {
    const outline::Point at = a.shape.box().high;
    const outline::Point bt = b.shape.box().high;
    return std::pair(at.x_mm, at.y_mm) > std::pair(bt.x_mm, bt.y_mm);
  });
  std::vector<std::size_t> sequence;
  for (Laid& laid : all)
    if (!laid.done) take(laid, all, sequence);
  return sequence;
}

}  // namespace warmsheet::nesting
