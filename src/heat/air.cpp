// SPDX-License-Identifier: MIT
#include "heat/air.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "heat/constants.h"

namespace warmsheet::heat {
namespace {

struct AirRow {
  double celsius;
  double conductivity_W_mK;
  double viscosity_m2_s;
  double prandtl;
};

// Cengel & Ghajar 5e, table A-15, 1 atm. Rows between 25 and 60 C were read there (those at 37.5 and 55 C are
// its own interpolations in examples); 0, 20 and 100 C are recalled from the same table.
constexpr std::array air_rows{
    AirRow{0.0, 0.02364, 1.338e-5, 0.7362},  AirRow{20.0, 0.02514, 1.516e-5, 0.7309},
    AirRow{25.0, 0.02551, 1.562e-5, 0.7296}, AirRow{37.5, 0.02644, 1.679e-5, 0.7262},
    AirRow{45.0, 0.02699, 1.750e-5, 0.7241}, AirRow{60.0, 0.02808, 1.896e-5, 0.7202},
    AirRow{100.0, 0.03095, 2.306e-5, 0.7111}};
constexpr double air_heat_J_kgK = 1007.0;

// Nu = a Ra^b: McAdams, in the values of Cengel & Ghajar's examples 9-2 and after.
constexpr double upward_laminar = 0.54;
constexpr double upward_turbulent = 0.15;
constexpr double upward_turbulent_from = 1e7;
constexpr double downward_laminar = 0.27;

// Vapour weighs this much less than air of the same pressure and temperature: 1 - 18.015/28.96.
constexpr double lighter_by = 1.0 - air_gas_constant_J_kgK / vapour_gas_constant_J_kgK;
constexpr double most_vapour_share = 0.95;

const AirRow& row_below(double celsius) {
  std::size_t i = 0;
  while (i + 2 < air_rows.size() && celsius >= air_rows[i + 1].celsius) ++i;
  return air_rows[i];
}

double square_side_m(const Plate& plate) {
  return std::sqrt(plate.area_m2);
}

/// Area over perimeter of that square.
double horizontal_length_m(const Plate& plate) {
  return 0.25 * square_side_m(plate);
}

/// Temperature at which dry air would be as light as this moist air.
double virtual_K(double temperature_K, double vapour_Pa, double pressure_Pa) {
  // Near boiling all of it is vapour; beyond that nothing here is meant.
  const double share = std::min(vapour_Pa / pressure_Pa, most_vapour_share);
  return temperature_K / (1.0 - lighter_by * share);
}

/// By what share of its density air at the face is lighter than the room's; negative if it is heavier.
double lightness(const Room& room, double surface_K, Surface surface) {
  const double room_vapour_Pa = room.relative_humidity * saturation_Pa(room.air_K);
  const bool wet = surface == Surface::wet;
  const double at_face_K = virtual_K(surface_K, wet ? saturation_Pa(surface_K) : 0.0, room.pressure_Pa);
  const double far_off_K = virtual_K(room.air_K, wet ? room_vapour_Pa : 0.0, room.pressure_Pa);
  return 2.0 * (at_face_K - far_off_K) / (at_face_K + far_off_K);
}

double rayleigh(const AirFilm& film, double length_m, double lighter) {
  return gravity_m_s2 * std::abs(lighter) * length_m * length_m * length_m /
         (film.viscosity_m2_s * film.diffusivity_m2_s);
}

double natural_W_m2K(const Plate& plate, Facing facing, const AirFilm& film, double lighter) {
  if (facing == Facing::sideways) {
    const double side_m = square_side_m(plate);
    const double Ra = rayleigh(film, side_m, lighter);
    return film.conductivity_W_mK / side_m * nusselt_vertical(Ra, film.prandtl);
  }
  const double length_m = horizontal_length_m(plate);
  const double Ra = rayleigh(film, length_m, lighter);
  // A face under heavier air behaves as a warm one that looks the other way.
  const bool rises_freely = (facing == Facing::upward) == (lighter > 0.0);
  return film.conductivity_W_mK / length_m * (rises_freely ? nusselt_upward(Ra) : nusselt_downward(Ra));
}

double vapour_density_kg_m3(double pressure_Pa, double temperature_K) {
  return pressure_Pa / (vapour_gas_constant_J_kgK * temperature_K);
}

}  // namespace

AirFilm air_film(double temperature_K, double pressure_Pa) {
  const double celsius = temperature_K - zero_C_K;
  const AirRow& low = row_below(celsius);
  const AirRow& high = *(&low + 1);
  const double share = (celsius - low.celsius) / (high.celsius - low.celsius);
  const auto between = [share](double a, double b) { return a + share * (b - a); };
  AirFilm film{};
  film.conductivity_W_mK = between(low.conductivity_W_mK, high.conductivity_W_mK);
  film.prandtl = between(low.prandtl, high.prandtl);
  film.viscosity_m2_s = between(low.viscosity_m2_s, high.viscosity_m2_s) * atmosphere_Pa / pressure_Pa;
  film.diffusivity_m2_s = film.viscosity_m2_s / film.prandtl;
  film.density_kg_m3 = pressure_Pa / (air_gas_constant_J_kgK * temperature_K);
  film.heat_J_kgK = air_heat_J_kgK;
  return film;
}

double nusselt_vertical(double Ra, double Pr) {
  const double prandtl_term = std::pow(1.0 + std::pow(0.492 / Pr, 9.0 / 16.0), 8.0 / 27.0);
  const double root = 0.825 + 0.387 * std::pow(Ra, 1.0 / 6.0) / prandtl_term;
  return root * root;
}

double nusselt_upward(double Ra) {
  // The two laws cross near 4.7e6; the change stands at 1e7 in the handbook and makes a jump of 6 %, which no
  // blank reaches (Ra of one of 20 x 30 cm at 65 C is 6e5); a whole sheet of 60 x 90 cm lies beyond it at
  // 2e7.
  return Ra < upward_turbulent_from ? upward_laminar * std::sqrt(std::sqrt(Ra))
                                    : upward_turbulent * std::cbrt(Ra);
}

double nusselt_downward(double Ra) {
  return downward_laminar * std::sqrt(std::sqrt(Ra));
}

double nusselt_forced(double Re, double Pr) {
  return 0.664 * std::sqrt(Re) * std::cbrt(Pr);
}

double convection_W_m2K(const Plate& plate, Facing facing, const Room& room, double surface_K,
                        Surface surface) {
  const AirFilm film = air_film(0.5 * (surface_K + room.air_K), room.pressure_Pa);
  const double natural = natural_W_m2K(plate, facing, film, lightness(room, surface_K, surface));
  if (room.air_speed_m_s <= 0.0) return natural;
  const double side_m = square_side_m(plate);
  const double Re = room.air_speed_m_s * side_m / film.viscosity_m2_s;
  const double forced = film.conductivity_W_mK / side_m * nusselt_forced(Re, film.prandtl);
  return std::cbrt(natural * natural * natural + forced * forced * forced);
}

double radiation_W_m2(const Plate& plate, const Room& room, double surface_K) {
  const auto fourth = [](double T) { return T * T * T * T; };
  return plate.emissivity * stefan_boltzmann_W_m2K4 * (fourth(surface_K) - fourth(room.walls_K));
}

double saturation_Pa(double temperature_K) {
  // A. L. Buck, J. Appl. Meteorology 20 (1981) 1527, with the coefficients of 1996, over water.
  const double t = temperature_K - zero_C_K;
  return 611.21 * std::exp((18.678 - t / 234.5) * (t / (257.14 + t)));
}

double vaporisation_J_kg(double temperature_K) {
  // Cengel & Ghajar table A-9: 2501 kJ/kg at 0.01 C; 2283 at 90 C.
  return 2501e3 - 2422.0 * (temperature_K - zero_C_K);
}

double vapour_diffusivity_m2_s(double temperature_K, double pressure_Pa) {
  return 1.87e-10 * std::pow(temperature_K, 2.072) * atmosphere_Pa / pressure_Pa;
}

double evaporation_kg_m2s(const Plate& plate, Facing facing, const Room& room, double surface_K) {
  const double film_K = 0.5 * (surface_K + room.air_K);
  const AirFilm film = air_film(film_K, room.pressure_Pa);
  const double lewis = film.diffusivity_m2_s / vapour_diffusivity_m2_s(film_K, room.pressure_Pa);
  const double h = convection_W_m2K(plate, facing, room, surface_K, Surface::wet);
  const double transfer_m_s = h / (film.density_kg_m3 * film.heat_J_kgK * std::cbrt(lewis * lewis));
  const double at_surface = vapour_density_kg_m3(saturation_Pa(surface_K), surface_K);
  const double far_off = vapour_density_kg_m3(room.relative_humidity * saturation_Pa(room.air_K), room.air_K);
  return std::max(0.0, transfer_m_s * (at_surface - far_off));
}

double dry_loss_W_m2(const Plate& plate, Facing facing, const Room& room, double surface_K) {
  return convection_W_m2K(plate, facing, room, surface_K) * (surface_K - room.air_K) +
         radiation_W_m2(plate, room, surface_K);
}

double wet_loss_W_m2(const Plate& plate, Facing facing, const Room& room, double surface_K) {
  return convection_W_m2K(plate, facing, room, surface_K, Surface::wet) * (surface_K - room.air_K) +
         radiation_W_m2(plate, room, surface_K) +
         evaporation_kg_m2s(plate, facing, room, surface_K) * vaporisation_J_kg(surface_K);
}

}  // namespace warmsheet::heat
