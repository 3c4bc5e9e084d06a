// SPDX-License-Identifier: MIT
// A sheet in the water bath: half of the thickness by symmetry, the mid-plane insulated, the face behind a
// film of water. Perforation shortens the way to the water: a sheet with holes is a slab of half thickness
// volume / wetted area, of which the walls of the holes count half. Water without a heater is one more cell
// behind that film: it cools as the sheet warms.
#pragma once

#include <optional>
#include <vector>

#include "heat/case.h"

namespace warmsheet::heat {

struct Track {
  std::vector<double> time_s;
  std::vector<double> value;
};

struct BathRun {
  std::optional<double> half_soft_s;  ///< mean crystallinity fell to half of the full one
  std::optional<double> ready_s;      ///< mid-plane, or the dry face, past the end of melting
  double heat_J_m2 = 0.0;             ///< taken by then, per area of one face of the blank
  Track middle_K = {};                ///< mid-plane; only if asked for
  Track molten_m = {};                ///< from each wet face; likewise
};

/// Across the half thickness at one moment in a bath that keeps its temperature: the safe side for skin.
struct BathProfile {
  std::vector<double> place;  ///< of each cell's centre: 0 in the middle, 1 at the face
  std::vector<double> temperature_K;
  std::vector<double> crystallinity;

  struct Point {
    double temperature_K;
    double crystallinity;
  };
  /// Linear between cells, level beyond the outermost. \pre 0 <= place <= 1
  [[nodiscard]] Point at(double place) const;
};
BathProfile bath_profile(const Case& c, double time_s);

/// Volume over wetted area, walls of holes counted by half; half the thickness for a solid sheet with water
/// on both faces.
double half_thickness_m(const SheetCase& sheet, bool one_face = false);

/// Runs until the sheet is ready, or `longest_s`. With `record`, on for half as long again, for a curve.
BathRun run_bath(const Case& c, double longest_s, bool record = false);

/// By how much the bath water cools in giving this heat to the blank.
double bath_drop_K(const Case& c, double heat_J_m2);

}  // namespace warmsheet::heat
