// SPDX-License-Identifier: MIT
#include "choice/trough.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace warmsheet::choice {
namespace {

// Below this the sector's integrals cancel to noise, and the strip is flat to one part in a hundred million.
constexpr double flat_half_angle_rad = 1e-4;

void require_positive(double number) {
  if (!std::isfinite(number) || number <= 0.0) throw std::logic_error("a section needs positive lengths");
}

ArcSection flat_strip(double width_m, double thickness_m) {
  constexpr double rectangle = 12.0;  // I = b t^3 / 12
  return {width_m * thickness_m, width_m * std::pow(thickness_m, 3) / rectangle, 0.5 * thickness_m,
          0.5 * thickness_m};
}

}  // namespace

ArcSection arc_section(double inner_radius_m, double width_m, double thickness_m) {
  require_positive(inner_radius_m);
  require_positive(width_m);
  require_positive(thickness_m);
  const double outer = inner_radius_m + thickness_m;
  const double middle = inner_radius_m + 0.5 * thickness_m;
  const double half_angle = std::min(0.5 * width_m / middle, std::numbers::pi);
  if (half_angle < flat_half_angle_rad) return flat_strip(width_m, thickness_m);
  // y is measured from the centre of curvature towards the middle of the arc; dA = r dr dphi, y = r cos(phi).
  const double area = half_angle * (outer * outer - inner_radius_m * inner_radius_m);
  const double first = 2.0 / 3.0 * std::sin(half_angle) * (std::pow(outer, 3) - std::pow(inner_radius_m, 3));
  const double second = 0.25 * (half_angle + 0.5 * std::sin(2.0 * half_angle)) *
                        (std::pow(outer, 4) - std::pow(inner_radius_m, 4));
  const double centroid = first / area;
  // Past a quarter turn the outer corner lies farther from the centroid than the inner one.
  const double edge = std::min(inner_radius_m * std::cos(half_angle), outer * std::cos(half_angle));
  return {area, second - area * centroid * centroid, outer - centroid, centroid - edge};
}

double overhang_deflection_m(double force_N, double lever_m, double span_m, double overhang_stiffness_Nm2,
                             double span_stiffness_Nm2) {
  constexpr double cantilever = 3.0;
  const double turning_of_span = force_N * lever_m * span_m / (cantilever * span_stiffness_Nm2);
  return turning_of_span * lever_m + force_N * std::pow(lever_m, 3) / (cantilever * overhang_stiffness_Nm2);
}

double first_yield_force_N(const ArcSection& section, double lever_m, double yield_Pa) {
  return yield_Pa * section.second_moment_m4 / (section.to_outermost_m() * lever_m);
}

}  // namespace warmsheet::choice
