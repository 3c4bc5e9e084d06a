// SPDX-License-Identifier: MIT
// The palmar piece: a plate wide enough that it cannot narrow where it is stretched, which stiffens it by
// 1/(1 - nu^2), and moulded to the transverse arch of the palm, which stiffens it far more.
#pragma once

#include "choice/trough.h"

namespace warmsheet::choice {

/// Curvature, 1/m, of an arch that rises `rise_m` over a strip `width_m` wide: 8 s / b^2, from the sagitta of
/// a shallow arc. Flat counts as the least curve that the section formula takes.
double arch_curve(double width_m, double rise_m);

/// The piece bent to an arch that rises `rise_m` over the chord of a strip `width_m` wide. A rise of 0 gives
/// the flat strip.
ArcSection arched_section(double width_m, double rise_m, double thickness_m);

}  // namespace warmsheet::choice
