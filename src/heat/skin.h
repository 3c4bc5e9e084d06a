// SPDX-License-Identifier: MIT
// Skin as layers under Pennes' bioheat equation, and what its basal layer goes through.
// Reference: Pennes, J Appl Physiol 1 (1948) 93. Metabolic heat is left out: a few hundred W/m3 warm the skin
// by less than 0.01 K against what blood brings.
#pragma once

#include <optional>
#include <vector>

#include "heat/burn.h"
#include "heat/slab.h"

namespace warmsheet::heat {

struct TissueLayer {
  double thickness_m;
  double conductivity_W_mK;
  double density_kg_m3;
  double heat_J_kgK;
  double perfusion_per_s;
};

struct Tissue {
  std::vector<TissueLayer> layers;  ///< from the surface inward; the basal layer lies under the first
  double surface_K;                 ///< before contact
  double core_K;                    ///< of blood, and held under the last layer
  double blood_density_kg_m3;
  double blood_heat_J_kgK;
  DamageLaw damage;
};

/// Solver layers, finest at the surface. `fineness` multiplies the number of cells.
std::vector<SlabLayer> skin_layers(const Tissue& tissue, std::size_t fineness = 1);
/// Cells of the first layer: the basal layer lies at this interface, counted from the skin's first cell.
std::size_t basal_cell(std::size_t fineness = 1);
double skin_thickness_m(const Tissue& tissue);
/// Before contact: a straight line from surface to core.
double resting_temperature_K(const Tissue& tissue, double depth_m);

/// Follows the basal layer through a run.
class BasalWatch {
 public:
  explicit BasalWatch(const DamageLaw& law) : law_(law) {}
  void see(const SlabStep& step, const std::array<double, 3>& basal_K);

  [[nodiscard]] double peak_K() const { return peak_K_; }
  [[nodiscard]] double peak_time_s() const { return peak_time_s_; }
  [[nodiscard]] double damage() const { return damage_; }

 private:
  DamageLaw law_;
  double peak_K_ = 0.0;
  double peak_time_s_ = 0.0;
  double damage_ = 0.0;
};

/// Seconds until skin whose surface is held at `surface_K` takes `damage`; nothing within `longest_s`.
/// A hand in hot water: the water is taken to hold the surface at its own temperature at once, so the time
/// errs short.
std::optional<double> scald_time_s(const Tissue& tissue, double surface_K, double damage, double longest_s,
                                   std::size_t fineness = 1);

}  // namespace warmsheet::heat
