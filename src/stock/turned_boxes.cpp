// SPDX-License-Identifier: MIT
#include "stock/turned_boxes.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace warmsheet::stock {
namespace {

/// A box one degree off the best angle is longer by less than 1 mm on a forearm piece: less than a knife cuts
/// true.
constexpr int steps_in_half_turn = 180;

Rectangle box_at(const outline::Ring& ring, double angle_rad) {
  const double c = std::cos(angle_rad);
  const double s = std::sin(angle_rad);
  double low_x = std::numeric_limits<double>::infinity();
  double low_y = low_x;
  double high_x = -low_x;
  double high_y = -low_x;
  for (const outline::Point& p : ring) {
    const double x = c * p.x_mm - s * p.y_mm;
    const double y = s * p.x_mm + c * p.y_mm;
    low_x = std::min(low_x, x);
    high_x = std::max(high_x, x);
    low_y = std::min(low_y, y);
    high_y = std::max(high_y, y);
  }
  return {high_x - low_x, high_y - low_y};
}

}  // namespace

std::vector<Rectangle> turned_boxes(const outline::Polygon& shape) {
  std::vector<Rectangle> all;
  for (int step = 0; step < steps_in_half_turn; ++step)
    all.push_back(box_at(shape.outer(), std::numbers::pi * step / steps_in_half_turn));
  std::sort(all.begin(), all.end(), [](const Rectangle& a, const Rectangle& b) {
    return std::pair(a.length_mm, a.width_mm) < std::pair(b.length_mm, b.width_mm);
  });
  std::vector<Rectangle> kept;
  for (const Rectangle& box : all)
    if (kept.empty() || box.width_mm < kept.back().width_mm) kept.push_back(box);
  return kept;
}

Rectangle smallest_box(const std::vector<Rectangle>& boxes) {
  return *std::min_element(boxes.begin(), boxes.end(), [](const Rectangle& a, const Rectangle& b) {
    return a.area_mm2() < b.area_mm2();
  });
}

}  // namespace warmsheet::stock
