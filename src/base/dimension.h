// SPDX-License-Identifier: MIT
// Kinds of physical quantity and the units people write them in. SI inside; units only at the edges.
#pragma once

#include <numbers>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace warmsheet {

/// A temperature (a point on a scale) and a temperature difference are different kinds.
enum class Dimension {
  length,                  // m
  area,                    // m2
  volume,                  // m3
  mass,                    // kg
  duration,                // s
  temperature,             // K
  temperature_difference,  // K
  angle,                   // rad
  density,                 // kg/m3
  areal_density,           // kg/m2
  conductivity,            // W/(m K)
  specific_heat,           // J/(kg K)
  latent_heat,             // J/kg
  film_coefficient,        // W/(m2 K)
  thermal_resistance,      // m2 K/W
  thermal_effusivity,      // W s^0.5/(m2 K)
  pressure,                // Pa; also moduli and stresses
  force,                   // N
  speed,                   // m/s
  molar_energy,            // J/mol
  rate,                    // 1/s
  expansion,               // 1/K
  kelvin_squared,          // K2; the Hoffman-Lauritzen nucleation constant
  power_per_volume,        // W/m3
  diffusivity,             // m2/s
  money,                   // the currency of the price list; never converted
  ratio,                   // 1
};

/// One way to write a quantity: si = (written + shift) * multiplier / divisor. Both are whole numbers
/// wherever the definition allows, so that "1 1/2 in" is 0.0381 m to the last bit and not one bit beside it.
struct Unit {
  Dimension dimension;
  std::string_view id;      ///< in files and JSON, e.g. "degC"
  std::string_view ascii;   ///< in terminal text, e.g. "C"
  std::string_view symbol;  ///< in HTML and drawings, e.g. "°C"
  double multiplier = 1.0;
  double divisor = 1.0;
  double shift = 0.0;  ///< in this unit; not zero only for temperature scales

  [[nodiscard]] double to_si(double written) const { return (written + shift) * multiplier / divisor; }
  [[nodiscard]] double from_si(double si) const { return si * divisor / multiplier - shift; }
  /// SI units in one of this unit.
  [[nodiscard]] double size_si() const { return multiplier / divisor; }
};

/// 0 C, by the definition of the scale.
inline constexpr double zero_C_K = 273.15;
inline constexpr double mm_per_m = 1e3;
inline constexpr double m_per_mm = 1e-3;
inline constexpr double mm2_per_m2 = 1e6;
inline constexpr double um_per_mm = 1e3;
inline constexpr double l_per_m3 = 1e3;
/// Exact by the international yard and pound agreement of 1959.
inline constexpr double inch_m = 0.0254;
inline constexpr double inch_mm = 25.4;

constexpr double rad_of_deg(double angle_deg) {
  return angle_deg * std::numbers::pi / 180.0;
}
constexpr double deg_of_rad(double angle_rad) {
  return angle_rad * 180.0 / std::numbers::pi;
}

/// SI limits of a field or an option, inclusive.
struct Limits {
  double low;
  double high;
};

/// Bounds that nothing at this bench can leave, SI. `low_excluded` takes the low one out too.
struct PhysicalBounds {
  double low;
  double high;
  bool low_excluded;
};

std::string_view dimension_word(Dimension dimension);
PhysicalBounds physical_bounds(Dimension dimension);

/// Every kind, in the order of the enumeration.
const std::vector<Dimension>& all_dimensions();

/// Units of a kind, the preferred one first.
std::vector<const Unit*> units_of(Dimension dimension);

/// Any accepted spelling ("mm", "degC", "°C", "in2", "\""); nullptr if unknown for that kind.
const Unit* find_unit(Dimension dimension, std::string_view spelling);

/// All that `find_unit` accepts for a kind.
std::vector<std::string> spellings_of(Dimension dimension);

/// The units results are stated in (the JSON contract fixes them).
namespace units {
const Unit& millimetre();
const Unit& square_centimetre();
const Unit& gram();
const Unit& second();
const Unit& celsius();
const Unit& kelvin_difference();
const Unit& newton();
const Unit& one();
const Unit& percent();
}  // namespace units

/// "mm, cm, m, in, ft": what to show somebody who left the unit out.
std::string unit_list(Dimension dimension);

}  // namespace warmsheet
