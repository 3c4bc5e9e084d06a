// SPDX-License-Identifier: MIT
#include "choice/plate.h"

#include <algorithm>

namespace warmsheet::choice {
namespace {

// A rise under a millionth of the width is flat to any hand.
constexpr double flat_rise = 1e-6;
// Flatter than this is read as this: the section formula then gives the flat strip.
constexpr double flattest_radius_in_widths = 1e5;

}  // namespace

double arch_curve(double width_m, double rise_m) {
  constexpr double sagitta = 8.0;
  const double rise = std::max(rise_m, flat_rise * width_m);
  return std::max(sagitta * rise / (width_m * width_m), 1.0 / (flattest_radius_in_widths * width_m));
}

ArcSection arched_section(double width_m, double rise_m, double thickness_m) {
  return arc_section(1.0 / arch_curve(width_m, rise_m), width_m, thickness_m);
}

}  // namespace warmsheet::choice
