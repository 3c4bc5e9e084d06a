// SPDX-License-Identifier: MIT
#include "choice/plate.h"

#include <algorithm>
#include <cmath>

namespace warmsheet::choice {
namespace {

// A rise under a millionth of the width is flat to any hand.
constexpr double flat_rise = 1e-6;
// Flatter than this is read as this: the section formula then gives the flat strip.
constexpr double flattest_radius_in_widths = 1e5;

}  // namespace

double plate_rigidity_Nm(double modulus_Pa, double thickness_m, double poisson) {
  constexpr double rectangle = 12.0;
  return modulus_Pa * std::pow(thickness_m, 3) / (rectangle * (1.0 - poisson * poisson));
}

double plate_cantilever_m(double force_N, double lever_m, double width_m, double rigidity_Nm) {
  constexpr double cantilever = 3.0;
  return force_N * std::pow(lever_m, 3) / (cantilever * rigidity_Nm * width_m);
}

double arch_curve(double width_m, double rise_m) {
  constexpr double sagitta = 8.0;
  const double rise = std::max(rise_m, flat_rise * width_m);
  return std::max(sagitta * rise / (width_m * width_m), 1.0 / (flattest_radius_in_widths * width_m));
}

ArcSection arched_section(double width_m, double rise_m, double thickness_m) {
  return arc_section(1.0 / arch_curve(width_m, rise_m), width_m, thickness_m);
}

}  // namespace warmsheet::choice
