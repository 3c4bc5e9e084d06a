// SPDX-License-Identifier: MIT
#include "heat/instants.h"

#include <algorithm>
#include <cmath>

namespace warmsheet::heat {
namespace {

/// value = c0 + c1 s + c2 s^2 with s from 0 to 1 over the step.
struct Parabola {
  double c0;
  double c1;
  double c2;
  [[nodiscard]] double at(double s) const { return c0 + s * (c1 + s * c2); }
};

Parabola through(const std::array<double, 3>& t, const std::array<double, 3>& v) {
  const double length = t[2] - t[0];
  const double inner = (t[1] - t[0]) / length;
  const double rise = v[2] - v[0];
  const double bend = (v[1] - v[0] - inner * rise) / (inner * (inner - 1.0));
  return {v[0], rise - bend, bend};
}

/// Smallest s in (0, 1] with the parabola at `level`, given that it is below at 0.
std::optional<double> first_crossing(const Parabola& p, double level) {
  const double c = p.c0 - level;
  const double discriminant = p.c1 * p.c1 - 4.0 * p.c2 * c;
  if (discriminant < 0.0) return std::nullopt;
  // The two roots without cancellation (Numerical Recipes, 5.6).
  const double q = -0.5 * (p.c1 + std::copysign(std::sqrt(discriminant), p.c1));
  std::optional<double> first;
  for (const double s : {p.c2 != 0.0 ? q / p.c2 : -1.0, q != 0.0 ? c / q : -1.0})
    if (s > 0.0 && s <= 1.0 && (!first || s < *first)) first = s;
  return first;
}

}  // namespace

std::optional<double> time_of_rise(const std::array<double, 3>& t, const std::array<double, 3>& v,
                                   double level) {
  if (v[0] >= level) return t[0];
  const auto s = first_crossing(through(t, v), level);
  if (s) return t[0] + *s * (t[2] - t[0]);
  if (v[2] >= level) return t[2];  // rounding hid the root at the very end
  return std::nullopt;
}

Summit summit(const std::array<double, 3>& t, const std::array<double, 3>& v) {
  const Parabola p = through(t, v);
  Summit best = v[2] > v[0] ? Summit{t[2], v[2]} : Summit{t[0], v[0]};
  if (p.c2 >= 0.0) return best;
  const double s = -0.5 * p.c1 / p.c2;
  if (s > 0.0 && s < 1.0 && p.at(s) > best.value) best = {t[0] + s * (t[2] - t[0]), p.at(s)};
  return best;
}

void RiseWatch::see(const std::array<double, 3>& time_s, const std::array<double, 3>& value) {
  if (!found_s_) found_s_ = time_of_rise(time_s, value, level_);
}

}  // namespace warmsheet::heat
