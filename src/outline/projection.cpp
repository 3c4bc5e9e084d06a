// SPDX-License-Identifier: MIT
// Four corners give the plane's projective map (Hartley and Zisserman, Multiple View Geometry, 2nd ed., 2.3
// and 4.1). With square pixels and the optical axis in the middle of the picture, the images of the sheet's
// two directions, divided by the focal length, are at right angles and as long as each other if the sheet has
// the sides it is taken to have (8.8, calibration from planes). The focal length is not known; it is looked
// for in the range of lenses.
#include "outline/projection.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace warmsheet::outline {
namespace {

/// Over the picture's longer side: from the widest lenses of telephones (0.37; the usual one has 0.7) to a
/// long one, or to the usual one with two thirds of the picture cut away.
constexpr double shortest_focus = 0.35;
constexpr double longest_focus = 2.0;
constexpr int focus_steps = 60;

/// Eight equations for eight numbers, by elimination with the largest pivot.
Homography solved(std::array<std::array<double, 9>, 8> rows) {
  for (std::size_t k = 0; k < 8; ++k) {
    std::size_t pivot = k;
    for (std::size_t i = k + 1; i < 8; ++i)
      if (std::abs(rows[i][k]) > std::abs(rows[pivot][k])) pivot = i;
    std::swap(rows[k], rows[pivot]);
    for (std::size_t i = 0; i < 8; ++i) {
      if (i == k) continue;
      const double factor = rows[i][k] / rows[k][k];
      for (std::size_t j = k; j < 9; ++j) rows[i][j] -= factor * rows[k][j];
    }
  }
  Homography h{};
  for (std::size_t k = 0; k < 8; ++k) h[k] = rows[k][8] / rows[k][k];
  return h;
}

/// A direction on the sheet as seen through a lens.
struct Direction {
  double x;
  double y;
  double z;
  [[nodiscard]] double times(const Direction& other) const { return x * other.x + y * other.y + z * other.z; }
  [[nodiscard]] double length() const { return std::sqrt(times(*this)); }
};

double misfit_at(const Homography& map, double focus) {
  const Direction along{map[0] / focus, map[3] / focus, map[6]};
  const Direction up{map[1] / focus, map[4] / focus, map[7]};
  const double proportion = std::abs(std::log(along.length() / up.length()));
  const double cosine = std::abs(along.times(up)) / (along.length() * up.length());
  return std::max(proportion, cosine);
}

/// Seen from the side, a small circle in the middle of the sheet is an ellipse; its shorter axis over its
/// longer one is the cosine of the tilt.
double tilt_rad(const Homography& map, const Point& middle) {
  const double w = map[6] * middle.x_mm + map[7] * middle.y_mm + 1.0;
  const Point at = projected(map, middle);
  const double a = (map[0] - at.x_mm * map[6]) / w;
  const double b = (map[1] - at.x_mm * map[7]) / w;
  const double c = (map[3] - at.y_mm * map[6]) / w;
  const double d = (map[4] - at.y_mm * map[7]) / w;
  const double sum = a * a + b * b + c * c + d * d;
  const double spread = std::sqrt(std::max(0.0, sum * sum - 4.0 * (a * d - b * c) * (a * d - b * c)));
  return std::acos(std::sqrt(std::max(0.0, (sum - spread) / (sum + spread))));
}

}  // namespace

Homography homography(const Corners& from, const Corners& to) {
  std::array<std::array<double, 9>, 8> rows{};
  for (std::size_t i = 0; i < 4; ++i) {
    const double u = from[i].x_mm;
    const double v = from[i].y_mm;
    const double x = to[i].x_mm;
    const double y = to[i].y_mm;
    rows[2 * i] = {u, v, 1.0, 0.0, 0.0, 0.0, -u * x, -v * x, x};
    rows[2 * i + 1] = {0.0, 0.0, 0.0, u, v, 1.0, -u * y, -v * y, y};
  }
  return solved(rows);
}

Point projected(const Homography& map, const Point& p) {
  const double w = map[6] * p.x_mm + map[7] * p.y_mm + 1.0;
  return {(map[0] * p.x_mm + map[1] * p.y_mm + map[2]) / w, (map[3] * p.x_mm + map[4] * p.y_mm + map[5]) / w};
}

Corners sheet_rectangle(double along_mm, double up_mm) {
  return {Point{0.0, 0.0}, {along_mm, 0.0}, {along_mm, up_mm}, {0.0, up_mm}};
}

View view_of(const Corners& seen, double along_mm, double up_mm) {
  const Homography map = homography(sheet_rectangle(along_mm, up_mm), seen);
  View view{misfit_at(map, shortest_focus), tilt_rad(map, {0.5 * along_mm, 0.5 * up_mm})};
  for (int i = 1; i <= focus_steps; ++i) {
    const double share = static_cast<double>(i) / focus_steps;
    const double focus = shortest_focus * std::pow(longest_focus / shortest_focus, share);
    view.misfit = std::min(view.misfit, misfit_at(map, focus));
  }
  return view;
}

}  // namespace warmsheet::outline
