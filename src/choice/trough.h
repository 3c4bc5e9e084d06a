// SPDX-License-Identifier: MIT
// The trough of an orthosis as a beam. Its cross-section is a strip of sheet bent to a circular arc; bent
// about the axis parallel to its chord it is far stiffer than the flat strip, which is why a trough holds and
// a flat splint sags. The section is integrated exactly over the sector of a circular ring, so that it turns
// into the flat strip for a small angle and into the tube for a full one; handbooks print the limit of a thin
// wall (Young and Budynas, Roark's Formulas for Stress and Strain, table A.1, sector of a thin annulus: from
// memory). Beam theory keeps the section's shape. An open trough also spreads and flattens under load, so the
// true deflection is larger than the one given here: use it to compare sheets, and test the orthosis itself
// by hand.
#pragma once

namespace warmsheet::choice {

/// Cross-section bent about the axis parallel to the chord. Lengths in metres from the centroid.
struct ArcSection {
  double area_m2;
  double second_moment_m4;
  double to_back_m;   ///< to the outermost fibre at the middle of the arc
  double to_edges_m;  ///< to the outermost fibre at the two long edges

  /// The larger of the two: where yield begins.
  [[nodiscard]] double to_outermost_m() const { return to_back_m > to_edges_m ? to_back_m : to_edges_m; }
};

/// A strip `width_m` wide (along the arc, at mid thickness) on a limb of radius `inner_radius_m`; wider than
/// the girth counts as a closed tube. Throws std::logic_error unless all three are positive and finite.
ArcSection arc_section(double inner_radius_m, double width_m, double thickness_m);

/// Deflection, in metres, where the force acts, of a beam held at two places `span_m` apart and loaded
/// `lever_m` beyond the second one: P a^2 (b + a) / 3EI, split so that the overhang may have another
/// stiffness than the span. Stiffnesses E I in N m2. Source: beam tables (overhanging beam, load at the end
/// of the overhang).
double overhang_deflection_m(double force_N, double lever_m, double span_m, double overhang_stiffness_Nm2,
                             double span_stiffness_Nm2);

/// The force, in newtons, at the end of `lever_m` that first brings the outermost fibre to `yield_Pa`.
double first_yield_force_N(const ArcSection& section, double lever_m, double yield_Pa);

}  // namespace warmsheet::choice
