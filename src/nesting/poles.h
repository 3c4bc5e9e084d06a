// SPDX-License-Identifier: MIT
// Poles: discs that together stand for a shape when the depth of an overlap is judged. Each is the largest
// that fits in the shape beside the ones before it.
#pragma once

#include <vector>

#include "nesting/plane.h"

namespace warmsheet::nesting {

struct Pole {
  Vec at;
  double radius;
};

/// Largest first: until 90 % of the area is covered (at least 6 of them), or 80 % with 12, or 28 in all.
std::vector<Pole> poles_of(const Region& region);

/// The first of them: the largest circle found inside. It is inside, but may not be quite the largest.
Pole inscribed_circle(const Region& region);

/// The poles of a turned shape as arrays, so that the overlap measure is vectorised.
class PoleCloud {
 public:
  PoleCloud() = default;
  PoleCloud(const std::vector<Pole>& poles, Turn turn) { set(poles, turn); }
  void set(const std::vector<Pole>& poles, Turn turn);

  /// Pi times the sum over all pairs of penetration times the smaller radius, with the other cloud moved by
  /// p. A penetration below epsilon decays but stays positive, so that there is always a way to less.
  [[nodiscard]] double overlap(const PoleCloud& other, Vec p, double epsilon) const;

 private:
  std::vector<float> x_, y_, radius_;
};

/// Loss of two shapes that do overlap: grows like depth times size. Both hull areas, the larger diameter.
struct LossScale {
  LossScale(double hull_area_a, double diameter_a, double hull_area_b, double diameter_b);
  [[nodiscard]] double loss(const PoleCloud& a, const PoleCloud& b, Vec p) const;
  double epsilon;
  double size;
};

}  // namespace warmsheet::nesting
