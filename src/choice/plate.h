// SPDX-License-Identifier: MIT
// The palmar piece: a plate wide enough that it cannot narrow where it is stretched, which stiffens it by
// 1/(1 - nu^2), and moulded to the transverse arch of the palm, which stiffens it far more.
#pragma once

#include "choice/trough.h"

namespace warmsheet::choice {

/// Flexural rigidity D = E t^3 / 12 (1 - nu^2), N m (Timoshenko and Woinowsky-Krieger, Theory of Plates and
/// Shells).
double plate_rigidity_Nm(double modulus_Pa, double thickness_m, double poisson);

/// Deflection in metres at the end of a plate held along one edge: a wide cantilever strip, F a^3 / 3 D b.
double plate_cantilever_m(double force_N, double lever_m, double width_m, double rigidity_Nm);

/// Curvature, 1/m, of an arch that rises `rise_m` over a strip `width_m` wide: 8 s / b^2, from the sagitta of
/// a shallow arc. Flat counts as the least curve that the section formula takes.
double arch_curve(double width_m, double rise_m);

/// The piece bent to an arch that rises `rise_m` over the chord of a strip `width_m` wide. A rise of 0 gives
/// the flat strip.
ArcSection arched_section(double width_m, double rise_m, double thickness_m);

}  // namespace warmsheet::choice
