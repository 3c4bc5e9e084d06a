// SPDX-License-Identifier: MIT
// Physical constants of this room: symbol, unit, source. What belongs to a sheet, a skin or a room is a
// figure of the library and never stands here.
#pragma once

#include "base/dimension.h"

namespace warmsheet::heat {

// ---- defined ----
/// g_n [m/s2]: standard gravity (3rd CGPM, 1901).
inline constexpr double gravity_m_s2 = 9.80665;
/// sigma [W/m2K4]: exact since 2019, 5.670374419e-8 (CODATA 2018).
inline constexpr double stefan_boltzmann_W_m2K4 = 5.670374419e-8;
/// R [J/molK]: exact since 2019, N_A k (CODATA 2018).
inline constexpr double gas_constant_J_molK = 8.31446261815324;
/// p_atm [Pa]: the standard atmosphere (10th CGPM, 1954).
inline constexpr double atmosphere_Pa = 101325.0;

// ---- measured ----
/// M [kg/mol]: water 18.0153e-3, dry air 28.9647e-3 (IUPAC atomic weights; ISO 2533 standard atmosphere).
inline constexpr double molar_mass_water_kg_mol = 18.0153e-3;
inline constexpr double molar_mass_air_kg_mol = 28.9647e-3;
/// [kg/m3], [J/kgK], [W/mK] of liquid water near 60 C: Cengel & Ghajar, Heat and Mass Transfer 5e, table A-9.
/// From 50 to 80 C they change by 1.6, 0.4 and 4 %, far less than the film of water is known.
inline constexpr double water_density_kg_m3 = 983.3;
inline constexpr double water_heat_J_kgK = 4185.0;
inline constexpr double water_conductivity_W_mK = 0.654;

// ---- derived ----
/// [J/kgK]: specific gas constants.
inline constexpr double vapour_gas_constant_J_kgK = gas_constant_J_molK / molar_mass_water_kg_mol;
inline constexpr double air_gas_constant_J_kgK = gas_constant_J_molK / molar_mass_air_kg_mol;

}  // namespace warmsheet::heat
