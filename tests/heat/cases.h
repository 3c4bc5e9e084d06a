// SPDX-License-Identifier: MIT
// Skins, sheets and situations that the heat tests share, with where their numbers come from.
#pragma once

#include <string>

#include "heat/case.h"
#include "heat/constants.h"
#include "library/library.h"

namespace warmsheet::heat_tests {

using namespace heat;  // the room under test

inline double celsius(double kelvin) {
  return kelvin - zero_C_K;
}
inline double kelvin(double celsius) {
  return celsius + zero_C_K;
}

/// Henriques 1947 with dE/R = 75 000 K, cut off below 44 C.
inline DamageLaw henriques() {
  return {3.1e98, 75000.0, kelvin(44.0)};
}

/// Torvi & Dale, J Biomech Eng 116 (1994) 250, from memory; blood after Jiang et al. 2002.
inline Tissue torvi_dale() {
  return {{{80e-6, 0.255, 1200.0, 3598.0, 0.0},
           {2e-3, 0.523, 1200.0, 3222.0, 0.00125},
           {10e-3, 0.167, 1000.0, 2760.0, 0.00125}},
          kelvin(32.5),
          kelvin(37.0),
          1060.0,
          3770.0,
          henriques()};
}

/// Jiang et al., Burns 28 (2002) 713, quoted second-hand; initial 34 to 37 C, blood 34 C in that example.
inline Tissue jiang() {
  return {{{80e-6, 0.24, 1200.0, 3590.0, 0.0},
           {2e-3, 0.45, 1200.0, 3300.0, 0.00125},
           {10e-3, 0.19, 1000.0, 2500.0, 0.00125},
           {30e-3, 0.50, 1000.0, 4000.0, 0.00125}},
          kelvin(34.0),
          kelvin(37.0),
          1060.0,
          3770.0,
          {3.1e98, 75000.0, 0.0}};
}

/// ASTM F1930 / ISO 13506-2 skin (volumetric heats, so density 1): 75, 1125, 3885 um, no perfusion, 32.5
/// to 33.5 C.
inline Tissue f1930(double dermis_W_mK = 0.582, double dermis_J_m3K = 4.184e6) {
  return {{{75e-6, 0.628, 1.0, 4.40e6, 0.0},
           {1125e-6, dermis_W_mK, 1.0, dermis_J_m3K, 0.0},
           {3885e-6, 0.293, 1.0, 2.60e6, 0.0}},
          kelvin(32.5),
          kelvin(33.5),
          1060.0,
          3770.0,
          henriques()};
}

/// Neat polycaprolactone. Density: an encyclopaedia's; the rest from memory of the polymer's literature.
inline SheetCase neat(double thickness_m) {
  return {.thickness_m = thickness_m,
          .phases = {1145.0, 1750.0, 2050.0, 75e3, kelvin(50.0), kelvin(60.0)},
          .conductivity_W_mK = 0.20,
          .emissivity = 0.93,
          .kinetics = {6270.0, 183.15, 342.2, 1.02e5, 3.0, 1e-6, 180.0}};
}

/// Complete necrosis of the epidermis: Henriques 1947, in the integral of burn.h.
inline constexpr double second_degree_damage = 1.0;

/// Elastic grade, as the library's family: from memory.
inline SheetCase elastic(double thickness_m) {
  SheetCase sheet = neat(thickness_m);
  sheet.phases = {1125.0, 1800.0, 2050.0, 50e3, kelvin(45.0), kelvin(60.0)};
  sheet.conductivity_W_mK = 0.19;
  sheet.kinetics.half_time_42_s = 270.0;
  return sheet;
}

inline Case usual(SheetCase sheet = elastic(3.2e-3)) {
  const double room_K = kelvin(22.0);
  return {.sheet = sheet,
          .bath = {kelvin(70.0), 500.0, room_K, 1.0, 12e-3},
          .air = {{room_K, room_K, 0.5, atmosphere_Pa, 0.1}, 0.041, 0.004, false},
          .limb = {.contact_m2K_W = 0.5e-3,
                   .tissue = torvi_dale(),
                   .peak_limit_K = kelvin(43.0),
                   .damage_limit = 0.053},
          .hand = {torvi_dale(), torvi_dale()}};
}

/// The same, refined until nothing depends on grid or step.
inline Case refined(Case c) {
  c.accuracy = {
      .bath_cells = 80, .sheet_cells = 64, .skin_fineness = 4, .bath_tolerance_K = 1e-3, .tolerance_K = 1e-3};
  return c;
}

}  // namespace warmsheet::heat_tests
