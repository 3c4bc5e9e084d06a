// SPDX-License-Identifier: MIT
#include "choice/modulus.h"

#include <cmath>

#include "base/dimension.h"

namespace warmsheet::choice {
namespace {

Figure remembered(const char* name, Range si, const Unit& unit, const char* where) {
  return Figure::stated(name, si, unit, {.basis = Basis::memory, .where = where});
}

}  // namespace

Figure wear_temperature() {
  return remembered("wear temperature", {zero_C_K + 32.0, zero_C_K + 28.0, zero_C_K + 36.0}, units::celsius(),
                    "skin under a worn orthosis 32 to 36 C, room 20 to 25 C, the sheet lies between");
}

Figure age_share() {
  return remembered("stiffness in the first day", {0.9, 0.8, 1.0}, units::one(),
                    "polycaprolactone gains 10 to 20 % of stiffness in the day after moulding");
}

Figure creep_share() {
  return remembered("stiffness under a lasting push", {0.5, 0.3, 0.7}, units::one(),
                    "creep of soft semicrystalline polymers over hours");
}

Figure tissue_modulus() {
  return remembered("stiffness of soft tissue", {30e3, 10e3, 60e3}, *find_unit(Dimension::pressure, "kPa"),
                    "forearm and hand pressed by a flat face");
}

Figure tissue_depth() {
  return remembered("depth of soft tissue", {10e-3, 5e-3, 15e-3}, units::millimetre(),
                    "over bone at the wrist and forearm");
}

double modulus_at_Pa(double modulus_23_Pa, double modulus_37_Pa, double temperature_K) {
  constexpr double cool_K = zero_C_K + 23.0;
  constexpr double warm_K = zero_C_K + 37.0;
  return modulus_23_Pa *
         std::pow(modulus_37_Pa / modulus_23_Pa, (temperature_K - cool_K) / (warm_K - cool_K));
}

double shrink_pressure_Pa(double shrinkage, double modulus_Pa, double thickness_m, double radius_m,
                          double tissue_modulus_Pa, double tissue_depth_m) {
  // Pressure for each metre of radius: hoop stress E u / R over a wall t gives E t / R^2.
  const double shell = modulus_Pa * thickness_m / (radius_m * radius_m);
  const double tissue = tissue_modulus_Pa / tissue_depth_m;
  return shell * tissue / (shell + tissue) * shrinkage * radius_m;
}

}  // namespace warmsheet::choice
