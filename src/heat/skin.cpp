// SPDX-License-Identifier: MIT
#include "heat/skin.h"

#include <array>
#include <cmath>

#include "heat/instants.h"

namespace warmsheet::heat {
namespace {

// Cells by layer and their growth inward. Heat goes about 0.1 mm deep in a tenth of a second and 2 mm in 40
// s: the first layer carries the peak, the last one only the slow tail.
struct Grading {
  std::size_t cells;
  double growth;
};
constexpr std::array gradings{Grading{4, 1.0}, Grading{7, 1.25}, Grading{14, 1.2}};

const Grading& grading(std::size_t layer) {
  return gradings[std::min(layer, gradings.size() - 1)];
}

/// The same grading, only finer: growth^(1/fineness) a cell.
std::vector<double> layer_widths(std::size_t layer, double thickness_m, std::size_t fineness) {
  const Grading& g = grading(layer);
  const double growth = std::pow(g.growth, 1.0 / static_cast<double>(fineness));
  return growing_widths(thickness_m, g.cells * fineness, growth);
}

}  // namespace

std::vector<SlabLayer> skin_layers(const Tissue& tissue, std::size_t fineness) {
  std::vector<SlabLayer> layers;
  for (std::size_t i = 0; i < tissue.layers.size(); ++i) {
    const TissueLayer& t = tissue.layers[i];
    layers.push_back(
        {.conductivity_W_mK = t.conductivity_W_mK,
         .phases = Phases::unchanging(t.density_kg_m3, t.heat_J_kgK),
         .widths_m = layer_widths(i, t.thickness_m, fineness),
         .perfusion_W_m3K = t.perfusion_per_s * tissue.blood_density_kg_m3 * tissue.blood_heat_J_kgK,
         .perfusion_K = tissue.core_K});
  }
  return layers;
}

std::size_t basal_cell(std::size_t fineness) {
  return gradings.front().cells * fineness;
}

double skin_thickness_m(const Tissue& tissue) {
  double sum = 0.0;
  for (const TissueLayer& layer : tissue.layers) sum += layer.thickness_m;
  return sum;
}

double resting_temperature_K(const Tissue& tissue, double depth_m) {
  return tissue.surface_K + (tissue.core_K - tissue.surface_K) * depth_m / skin_thickness_m(tissue);
}

void BasalWatch::see(const SlabStep& step, const std::array<double, 3>& basal_K) {
  const Summit top = summit(step.time_s, basal_K);
  if (top.value > peak_K_) {
    peak_K_ = top.value;
    peak_time_s_ = top.time_s;
  }
  damage_ += damage_over(law_, basal_K[0], basal_K[1], step.time_s[1] - step.time_s[0]) +
             damage_over(law_, basal_K[1], basal_K[2], step.time_s[2] - step.time_s[1]);
}

std::optional<double> scald_time_s(const Tissue& tissue, double surface_K, double damage, double longest_s,
                                   std::size_t fineness) {
  if (surface_K < tissue.damage.threshold_K) return std::nullopt;
  Slab slab(skin_layers(tissue, fineness), Face::held(surface_K), Face::held(tissue.core_K),
            {.tolerance_K = 0.01, .first_step_s = 1e-5, .longest_step_s = 60.0});
  slab.set_temperature([&](double depth_m) { return resting_temperature_K(tissue, depth_m); });
  BasalWatch watch(tissue.damage);
  while (slab.time_s() < longest_s) {
    const double before = watch.damage();
    const SlabStep step = slab.step(longest_s);
    std::array<double, 3> basal{};
    for (std::size_t i = 0; i < basal.size(); ++i)
      basal[i] = slab.interface_K(*step.state[i], basal_cell(fineness));
    watch.see(step, basal);
    if (watch.damage() < damage) continue;
    const double share = (damage - before) / (watch.damage() - before);
    return step.time_s[0] + share * (step.time_s[2] - step.time_s[0]);
  }
  return std::nullopt;
}

}  // namespace warmsheet::heat
