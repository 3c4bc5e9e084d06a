// SPDX-License-Identifier: MIT
#include "base/dimension.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

// Transport energies in use for polymers lie between 4 and 25 kJ/mol.
constexpr Limits transport_limits_J_mol{1e3, 5e4};
// Below every glass transition of these polymers (-60 C), above the coldest the parser takes.
constexpr Limits glass_limits_K{zero_C_K - 100.0, zero_C_K};
// Above the melting range of any sheet that a water bath softens.
constexpr Limits equilibrium_limits_K{323.15, 423.15};
constexpr Limits nucleation_limits_K2{1e3, 1e7};
// Avrami: 1 (rods grown at once from given nuclei) to 4 (spheres from nuclei born all along).
constexpr Limits avrami_limits{1.0, 4.0};
// Nakamura's rate is zero at X = 0, so a start is needed; above 1 % it would eat into the 5 % that is
// reported.
constexpr Limits seed_limits{1e-12, 1e-2};

}  // namespace

Crystallisation read_crystallisation(const toml::Value& file, Problems& problems) {
  toml::Reader reader(file, "crystallisation", problems);
  return {.activation_energy =
              reader.figure("activation_energy", Dimension::molar_energy, transport_limits_J_mol),
          .glass_limit = reader.figure("glass_limit", Dimension::temperature, glass_limits_K),
          .equilibrium_melting =
              reader.figure("equilibrium_melting", Dimension::temperature, equilibrium_limits_K),
          .nucleation_constant =
              reader.figure("nucleation_constant", Dimension::kelvin_squared, nucleation_limits_K2),
          .avrami_exponent = reader.figure("avrami_exponent", Dimension::ratio, avrami_limits),
          .seed = reader.figure("seed", Dimension::ratio, seed_limits)};
}

}  // namespace warmsheet::library
