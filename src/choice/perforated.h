// SPDX-License-Identifier: MIT
// What holes take from a sheet. Two published rules are held against each other: the effective modulus of the
// pressure vessel code for perforated plates (ASME BPVC VIII-1, part UHX, a polynomial in the ligament
// efficiency with a table of thickness over pitch), and the closed form for round holes in a sheet loaded in
// its plane, (1 - phi)/(1 + 2 phi) (composite cylinder, Hashin and Shtrikman). The closed form is the
// stiffness used, because it is the lower of the two for sheet as thin as ours, falls to exactly 1 without
// holes, and holds outside the code's range too: it errs towards a floppier orthosis. The code's value, where
// it applies, is the other end of the range.
#pragma once

#include <optional>

#include "library/library.h"

namespace warmsheet::choice {

/// What is left of a pitch between two holes: (p - d) / p.
double ligament_efficiency(double hole_m, double pitch_m);

/// E*/E of the code, for ligament efficiencies from 0.1 to 0.6; nothing outside, where the polynomial was not
/// fitted. Linear in thickness over pitch between the rows 0.1, 0.25, 0.5 and 2; clamped at its ends, as in
/// the code.
std::optional<double> code_modulus_share(library::Lattice lattice, double ligament,
                                         double thickness_over_pitch);

/// E*/E of the closed form. \pre 0 <= open_area < 1
double closed_form_modulus_share(double open_area);

/// Share of the solid sheet's modulus: value, and the range between the two rules. Solid sheet is exactly 1.
Range modulus_share(const library::Perforation& perforation, double thickness_m);

/// Share of the solid sheet's strength: the ligament efficiency, as if all holes of a row lay across the
/// pull. Safe side.
double strength_share(const library::Perforation& perforation);

}  // namespace warmsheet::choice
