// SPDX-License-Identifier: MIT
#include "heat/enthalpy.h"

namespace warmsheet::heat {
namespace {

// Enthalpy 0 for the solid; near the temperatures that occur, so that differences keep their digits.
constexpr double reference_K = 310.0;

}  // namespace

Phases Phases::unchanging(double density_kg_m3, double heat_J_kgK) {
  return {density_kg_m3, heat_J_kgK, heat_J_kgK, 0.0, reference_K, reference_K};
}

HeatContent::HeatContent(const Phases& p)
    : heat_solid_(p.density_kg_m3 * p.heat_solid_J_kgK),
      heat_melt_(p.density_kg_m3 * p.heat_melt_J_kgK),
      width_K_(p.melting_end_K - p.melting_start_K),
      melting_heat_(0.5 * (heat_solid_ + heat_melt_) * width_K_ + p.density_kg_m3 * p.latent_J_kg),
      end_K_(p.melting_end_K),
      end_enthalpy_(heat_solid_ * (p.melting_start_K - reference_K) + melting_heat_),
      slope_solid_(1.0 / heat_solid_),
      slope_melting_(melting_heat_ > 0.0 ? width_K_ / melting_heat_ : 0.0),
      slope_melt_(1.0 / heat_melt_) {
  set_crystallinity(1.0);
}

double HeatContent::enthalpy(double temperature_K) const {
  if (temperature_K >= end_K_) return end_enthalpy_ + (temperature_K - end_K_) / slope_melt_;
  if (temperature_K <= knee_K_ || slope_melting_ == 0.0)
    return knee_enthalpy_ + (temperature_K - knee_K_) / slope_below_;
  return knee_enthalpy_ + (temperature_K - knee_K_) / slope_melting_;
}

}  // namespace warmsheet::heat
