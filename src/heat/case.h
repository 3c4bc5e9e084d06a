// SPDX-License-Identifier: MIT
// One draw of everything a timing depends on, as plain SI numbers: what the models work on. Figures become a
// case in inputs.h and results become figures again in timing.cpp; in between nothing is shown to anybody.
#pragma once

#include <cstddef>
#include <optional>

#include "heat/air.h"
#include "heat/crystallisation.h"
#include "heat/enthalpy.h"
#include "heat/skin.h"

namespace warmsheet::heat {

struct SheetCase {
  double thickness_m;
  Phases phases;
  double conductivity_W_mK;
  double emissivity;
  KineticConstants kinetics;
  double open_area = 0.0;        ///< ratio; 0 for a solid sheet
  double hole_diameter_m = 0.0;  ///< used only if open_area > 0
  int layers = 1;                ///< on the limb; in the bath each layer heats on its own
  double solid_share = 1.0;      ///< of the thickness that cools after the bath

  [[nodiscard]] double cooling_thickness_m() const { return thickness_m * solid_share; }
};

struct BathCase {
  double bath_K;
  double film_W_m2K;
  double start_K;
  double start_crystallinity = 1.0;  ///< below 1 for a piece that was softened shortly before
  double water_m3;
  std::optional<double> lifted_s =
      {};              ///< how long it stays in; absent: until it is at the bath's temperature throughout
  bool cools = false;  ///< its water gives the heat and no heater helps; otherwise it stays as hot as it is
  bool one_face =
      false;  ///< water on one face only, the other in the air (a spot that water is spooned over)
};

struct AirCase {
  Room room;
  double area_m2;
  double water_kg_m2;    ///< left on each face when lifted out (or after drying)
  bool upright = false;  ///< held by an edge; otherwise flat
  std::optional<double> towel_W_s05_m2K =
      {};                  ///< thermal effusivity of the dry towel it lies on; absent: air under it
  bool undried = false;    ///< nobody patted it dry
  bool evaporates = true;  ///< false: its water stays where it is and takes no heat away
};

struct LimbCase {
  double contact_m2K_W;  ///< between sheet and skin or liner, when no water fills it
  double liner_m2K_W = 0.0;
  double wrap_m2K_W = 0.0;
  Tissue tissue;
  double peak_limit_K;
  double damage_limit;
};

/// The hand that works at the bath: its back, where skin is thinnest, and its palm.
struct HandCase {
  Tissue back = {};
  Tissue palm = {};
};

/// Cells and step tolerance; the defaults keep every result within 0.1 % of a refined run, and the wait,
/// which stands on the safe side of its root, within 0.2 % (tests, benchmark).
struct Accuracy {
  std::size_t bath_cells = 24;   ///< over half the thickness
  std::size_t sheet_cells = 14;  ///< over the whole thickness; even
  std::size_t skin_fineness = 2;
  double bath_tolerance_K = 0.01;
  double tolerance_K = 0.02;
};

struct Case {
  SheetCase sheet;
  BathCase bath;
  AirCase air;
  LimbCase limb;
  HandCase hand = {};
  Accuracy accuracy = {};
};

// What skin bears and how long a sheet shapes are judged apart, each on its own safe side.

/// The sheet that keeps its heat longest: as thick as it is between its holes. Water that nobody wiped off
/// may run together or lie under it, so none of it is taken to cool the sheet before skin meets both; nor is
/// it taken to lie on anything that cools it sooner than a towel.
Case as_skin_meets_it(Case c);

/// The sheet that loses its heat soonest: it has no more mass than its holes leave, and loses as much to the
/// air as one without holes, since an opening radiates and stirs the air like the face around it. Undried it
/// has air under it.
Case as_it_sets(Case c);

}  // namespace warmsheet::heat
