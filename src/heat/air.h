// SPDX-License-Identifier: MIT
// How a warm plate loses heat to a room: natural and forced convection with the properties of the air film,
// radiation, and evaporation while a film of water is left on it. References: Cengel & Ghajar, Heat and Mass
// Transfer 5e, chapters 7, 9 and 14 and table A-15 (air at 1 atm).
#pragma once

namespace warmsheet::heat {

/// Dry air at 1 atm pressure (table A-15), density and diffusivities at `pressure_Pa`.
struct AirFilm {
  double conductivity_W_mK;
  double viscosity_m2_s;    ///< kinematic
  double diffusivity_m2_s;  ///< thermal
  double prandtl;
  double density_kg_m3;
  double heat_J_kgK;
};
AirFilm air_film(double temperature_K, double pressure_Pa);

/// Which way a face looks. `upward` is the upper side of a flat piece.
enum class Facing { sideways, upward, downward };

/// A plate and the air around it. The plate is taken as a square of its area; an elongated one of the same
/// area loses up to a sixth more by convection, so the square errs to longer waiting.
struct Room {
  double air_K;
  double walls_K;            ///< for radiation; the air's temperature if nobody knows better
  double relative_humidity;  ///< ratio
  double pressure_Pa;
  double air_speed_m_s;  ///< draught along the plate; 0 for still air
};

struct Plate {
  double area_m2;  ///< of one face
  double emissivity;
};

/// Nusselt numbers of natural convection; `rayleigh` over the length named.
double nusselt_vertical(double rayleigh, double prandtl);  ///< height; Churchill & Chu, all Ra
double nusselt_upward(double rayleigh);                    ///< area/perimeter; McAdams
double nusselt_downward(double rayleigh);                  ///< area/perimeter; McAdams
/// Laminar, over the whole plate; Pohlhausen. \pre Re < 5e5, as in any room
double nusselt_forced(double reynolds, double prandtl);

/// What the air at a face holds: the room's vapour, or all it can over a film of water. Vapour is lighter
/// than air, so that a wet face stirs more of it.
enum class Surface { dry, wet };

/// Convective film coefficient in W/m2K. Natural and forced combine as the cube root of the sum of cubes.
double convection_W_m2K(const Plate& plate, Facing facing, const Room& room, double surface_K,
                        Surface surface = Surface::dry);

/// Net, W/m2, to walls that surround the plate.
double radiation_W_m2(const Plate& plate, const Room& room, double surface_K);

/// Saturation pressure of water, Pa, within 0.2 % of the steam tables from 0 to 90 C (Buck 1981/1996).
double saturation_Pa(double temperature_K);
/// Latent heat of vaporisation, J/kg, within 0.15 % from 0 to 90 C (straight line through table A-9's ends).
double vaporisation_J_kg(double temperature_K);
/// Water vapour in air, m2/s (Marrero & Mason 1972, as printed by Cengel & Ghajar eq. 14-15).
double vapour_diffusivity_m2_s(double temperature_K, double pressure_Pa);

/// Water that leaves a wet face, kg/m2s, by the analogy of heat and mass transfer; never negative (dew is
/// left out: it would warm the sheet only below room temperature's dew point). The vapour's own drift away
/// from the face is left out too: it would carry off more, so a wet sheet is taken warmer than it is.
double evaporation_kg_m2s(const Plate& plate, Facing facing, const Room& room, double surface_K);

/// All of a face's loss, W/m2.
double dry_loss_W_m2(const Plate& plate, Facing facing, const Room& room, double surface_K);
double wet_loss_W_m2(const Plate& plate, Facing facing, const Room& room, double surface_K);

}  // namespace warmsheet::heat
