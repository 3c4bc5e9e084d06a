// SPDX-License-Identifier: MIT
// Skin kinds and the tissue constants they share (materials/skin.toml).
#include <fmt/format.h>

#include "base/dimension.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

using D = Dimension;

// From the stratum corneum alone (10 um) to a finger's whole soft tissue.
constexpr Limits layer_limits_m{10e-6, 50e-3};
// Dry fat 0.16, water 0.63 W/mK; tissue lies between, with room for measured scatter.
constexpr Limits conductivity_limits_W_mK{0.1, 0.8};
constexpr Limits density_limits_kg_m3{800.0, 1300.0};
// Dry protein 1.5, water 4.2 kJ/kgK.
constexpr Limits heat_limits_J_kgK{1500.0, 4300.0};
// No flow at all up to fully opened skin vessels, about ten times the resting flow.
constexpr Limits perfusion_limits_1_s{0.0, 0.02};
// No limit for touch may stand above 43 C, the border of prolonged contact in ISO 13732-1; below 37 C nothing
// could ever be laid on.
constexpr Limits peak_limits_K{zero_C_K + 37.0, zero_C_K + 43.0};
// Never more than a tenth of a first-degree burn (0.53).
constexpr Limits damage_limits{1e-6, 0.053};
constexpr Limits surface_limits_K{zero_C_K + 15.0, zero_C_K + 38.0};
constexpr Limits core_limits_K{zero_C_K + 33.0, zero_C_K + 40.0};
constexpr Limits blood_density_limits_kg_m3{1000.0, 1100.0};
constexpr Limits blood_heat_limits_J_kgK{3000.0, 4300.0};
// The pair is one fit. 75 535 K beside 3.1e98 1/s, met in many programs, makes burns five times slower than
// they are, so the limits admit the pair and its printed digits only.
constexpr Limits factor_limits_1_s{3.05e98, 3.15e98};
constexpr Limits activation_limits_K{74990.0, 75010.0};
// A higher threshold would leave real damage uncounted.
constexpr Limits threshold_limits_K{zero_C_K + 37.0, zero_C_K + 44.0};

SkinLayer read_layer(toml::Reader& entry) {
  SkinLayer layer{.name = entry.text("name"),
                  .thickness = entry.figure("thickness", D::length, layer_limits_m),
                  .conductivity = entry.figure("conductivity", D::conductivity, conductivity_limits_W_mK),
                  .density = entry.figure("density", D::density, density_limits_kg_m3),
                  .specific_heat = entry.figure("specific_heat", D::specific_heat, heat_limits_J_kgK),
                  .perfusion = entry.figure("perfusion", D::rate, perfusion_limits_1_s)};
  entry.text("id");
  return layer;
}

SkinKind read_kind(toml::Reader& entry, const std::string& id) {
  SkinKind kind{.id = id,
                .name = entry.text("name"),
                .layers = {},
                .peak_limit = entry.figure("peak_limit", D::temperature, peak_limits_K),
                .damage_limit = entry.figure("damage_limit", D::ratio, damage_limits)};
  for (toml::Reader& layer : entry.tables("layer")) kind.layers.push_back(read_layer(layer));
  // The damage is judged between the first layer and the second.
  if (kind.layers.size() < 2)
    entry.problem("layer", fmt::format("expected at least two layers, saw {}", kind.layers.size()),
                  "write [[skin.layer]] tables from the surface inward: epidermis, dermis, subcutis");
  return kind;
}

}  // namespace

Tissue read_tissue(const toml::Value& file, Problems& problems) {
  // `skin` is read by read_skins; asking for it here keeps it from being unknown.
  toml::Reader reader(file, "", problems);
  reader.raw_if("skin");
  toml::Reader tissue = reader.table("tissue");
  const CleanSoFar clean(problems);
  Tissue read{
      .surface_temperature = tissue.figure("surface_temperature", D::temperature, surface_limits_K),
      .core_temperature = tissue.figure("core_temperature", D::temperature, core_limits_K),
      .blood_density = tissue.figure("blood_density", D::density, blood_density_limits_kg_m3),
      .blood_specific_heat = tissue.figure("blood_specific_heat", D::specific_heat, blood_heat_limits_J_kgK),
      .damage_factor = tissue.figure("damage_factor", D::rate, factor_limits_1_s),
      .damage_activation = tissue.figure("damage_activation", D::temperature_difference, activation_limits_K),
      .damage_threshold = tissue.figure("damage_threshold", D::temperature, threshold_limits_K)};
  if (clean && read.surface_temperature.si() > read.core_temperature.si())
    tissue.problem("surface_temperature", "skin before contact is warmer than the core",
                   "the surface of a limb is cooler than the core");
  return read;
}

std::map<std::string, SkinKind> read_skins(const toml::Value& file, Problems& problems) {
  toml::Reader reader(file, "", problems);
  reader.raw_if("tissue");
  return read_by_id(reader, "skin", read_kind);
}

}  // namespace warmsheet::library
