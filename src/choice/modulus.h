// SPDX-License-Identifier: MIT
// How stiff the sheet is when it is worn: warm, some hours or days old, and under a push that may last.
#pragma once

#include "base/figure.h"

namespace warmsheet::choice {

/// Temperature of a worn sheet, between the skin and the room.
Figure wear_temperature();
/// Stiffness in the first day as a share of the stated one: these polymers go on crystallising for days.
Figure age_share();
/// Stiffness under a push that lasts for hours as a share of the one under a short push.
Figure creep_share();
/// Soft tissue under a closed orthosis: pressure for each metre it is pressed in, as modulus and depth.
Figure tissue_modulus();
Figure tissue_depth();

/// Between the two stated temperatures the logarithm of the modulus is taken as linear, and so beyond them.
double modulus_at_Pa(double modulus_23_Pa, double modulus_37_Pa, double temperature_K);

/// Pressure on the limb, Pa, of a closed orthosis that would shrink by `shrinkage` if it were free: the shell
/// and the tissue under it as two springs that meet (the shrink fit of a thin ring on a soft core). The whole
/// free shrinkage is taken and no relaxation of the warm sheet, so the pressure is too high rather than too
/// low.
double shrink_pressure_Pa(double shrinkage, double modulus_Pa, double thickness_m, double radius_m,
                          double tissue_modulus_Pa, double tissue_depth_m);

}  // namespace warmsheet::choice
