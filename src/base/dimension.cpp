// SPDX-License-Identifier: MIT
#include "base/dimension.h"

#include <algorithm>
#include <array>
#include <numbers>

#include "base/calendar.h"

namespace warmsheet {
namespace {

// Exact by definition: the international yard and pound agreement of 1959 (1 in = 25.4 mm, 1 lb = 0.453 592
// 37 kg); 0 C = 273.15 K and 1 F = 5/9 K by the definition of the scales (SI brochure, 9th edition, 2.3.1 and
// table 8).
struct Fraction {
  double over;
  double under;
};
constexpr Fraction inch{127.0, 5000.0};
constexpr Fraction foot_m{12.0 * inch.over, inch.under};
constexpr Fraction square_inch_m2{inch.over * inch.over, inch.under* inch.under};
constexpr Fraction square_foot_m2{144.0 * square_inch_m2.over, square_inch_m2.under};
constexpr Fraction pound_kg{45359237.0, 1e8};
constexpr double fahrenheit_zero_F = 459.67;  // 0 K lies this far below 0 F
using D = Dimension;

constexpr std::array unit_table{
    Unit{D::length, "mm", "mm", "mm", 1.0, 1e3},
    Unit{D::length, "cm", "cm", "cm", 1.0, 1e2},
    Unit{D::length, "m", "m", "m", 1.0},
    Unit{D::length, "um", "um", "µm", 1.0, 1e6},
    Unit{D::length, "in", "in", "in", inch.over, inch.under},
    Unit{D::length, "ft", "ft", "ft", foot_m.over, foot_m.under},
    Unit{D::area, "cm2", "cm2", "cm²", 1.0, 1e4},
    Unit{D::area, "mm2", "mm2", "mm²", 1.0, 1e6},
    Unit{D::area, "m2", "m2", "m²", 1.0},
    Unit{D::area, "in2", "in2", "in²", square_inch_m2.over, square_inch_m2.under},
    Unit{D::area, "ft2", "ft2", "ft²", square_foot_m2.over, square_foot_m2.under},
    Unit{D::volume, "l", "l", "l", 1.0, 1e3},
    Unit{D::volume, "ml", "ml", "ml", 1.0, 1e6},
    Unit{D::volume, "m3", "m3", "m³", 1.0},
    Unit{D::mass, "g", "g", "g", 1.0, 1e3},
    Unit{D::mass, "kg", "kg", "kg", 1.0},
    Unit{D::mass, "lb", "lb", "lb", pound_kg.over, pound_kg.under},
    Unit{D::mass, "oz", "oz", "oz", pound_kg.over, 16.0 * pound_kg.under},
    Unit{D::duration, "s", "s", "s", 1.0},
    Unit{D::duration, "min", "min", "min", 60.0},
    Unit{D::duration, "h", "h", "h", 3600.0},
    Unit{D::duration, "d", "d", "d", day_s},
    Unit{D::duration, "wk", "wk", "wk", week_s},
    Unit{D::duration, "month", "month", "month", year_s, 12.0},
    Unit{D::duration, "yr", "yr", "yr", year_s},
    Unit{D::temperature, "degC", "C", "°C", 1.0, 1.0, zero_C_K},
    Unit{D::temperature, "degF", "F", "°F", 5.0, 9.0, fahrenheit_zero_F},
    Unit{D::temperature, "K", "K", "K", 1.0},
    Unit{D::temperature_difference, "K", "K", "K", 1.0},
    Unit{D::temperature_difference, "dC", "dC", "K", 1.0},
    Unit{D::temperature_difference, "dF", "dF", "°F difference", 5.0, 9.0},
    Unit{D::angle, "deg", "deg", "°", std::numbers::pi, 180.0},
    Unit{D::angle, "rad", "rad", "rad", 1.0},
    Unit{D::density, "kg/m3", "kg/m3", "kg/m³", 1.0},
    Unit{D::density, "g/cm3", "g/cm3", "g/cm³", 1e3},
    Unit{D::areal_density, "g/m2", "g/m2", "g/m²", 1.0, 1e3},
    Unit{D::areal_density, "kg/m2", "kg/m2", "kg/m²", 1.0},
    Unit{D::conductivity, "W/mK", "W/mK", "W/(m·K)", 1.0},
    Unit{D::specific_heat, "J/kgK", "J/kgK", "J/(kg·K)", 1.0},
    Unit{D::specific_heat, "kJ/kgK", "kJ/kgK", "kJ/(kg·K)", 1e3},
    Unit{D::specific_heat, "J/gK", "J/gK", "J/(g·K)", 1e3},
    Unit{D::latent_heat, "J/g", "J/g", "J/g", 1e3},
    Unit{D::latent_heat, "kJ/kg", "kJ/kg", "kJ/kg", 1e3},
    Unit{D::latent_heat, "J/kg", "J/kg", "J/kg", 1.0},
    Unit{D::film_coefficient, "W/m2K", "W/m2K", "W/(m²·K)", 1.0},
    Unit{D::thermal_resistance, "m2K/W", "m2K/W", "m²·K/W", 1.0},
    Unit{D::thermal_effusivity, "Wsqrt(s)/m2K", "Wsqrt(s)/m2K", "W·s½/(m²·K)", 1.0},
    Unit{D::pressure, "MPa", "MPa", "MPa", 1e6},
    Unit{D::pressure, "kPa", "kPa", "kPa", 1e3},
    Unit{D::pressure, "GPa", "GPa", "GPa", 1e9},
    Unit{D::pressure, "Pa", "Pa", "Pa", 1.0},
    Unit{D::force, "N", "N", "N", 1.0},
    Unit{D::speed, "m/s", "m/s", "m/s", 1.0},
    Unit{D::speed, "cm/s", "cm/s", "cm/s", 1.0, 1e2},
    Unit{D::molar_energy, "J/mol", "J/mol", "J/mol", 1.0},
    Unit{D::molar_energy, "kJ/mol", "kJ/mol", "kJ/mol", 1e3},
    Unit{D::rate, "1/s", "1/s", "1/s", 1.0},
    Unit{D::expansion, "1/K", "1/K", "1/K", 1.0},
    Unit{D::kelvin_squared, "K2", "K2", "K²", 1.0},
    Unit{D::power_per_volume, "W/m3", "W/m3", "W/m³", 1.0},
    Unit{D::diffusivity, "m2/s", "m2/s", "m²/s", 1.0},
    // "cr" is the credit of the invented price list; the rest are ISO 4217 codes.
    Unit{D::money, "cr", "cr", "cr", 1.0},
    Unit{D::money, "EUR", "EUR", "EUR", 1.0},
    Unit{D::money, "USD", "USD", "USD", 1.0},
    Unit{D::money, "GBP", "GBP", "GBP", 1.0},
    Unit{D::money, "CHF", "CHF", "CHF", 1.0},
    Unit{D::money, "CAD", "CAD", "CAD", 1.0},
    Unit{D::money, "AUD", "AUD", "AUD", 1.0},
    Unit{D::money, "NZD", "NZD", "NZD", 1.0},
    Unit{D::money, "SEK", "SEK", "SEK", 1.0},
    Unit{D::money, "NOK", "NOK", "NOK", 1.0},
    Unit{D::money, "DKK", "DKK", "DKK", 1.0},
    Unit{D::money, "PLN", "PLN", "PLN", 1.0},
    Unit{D::money, "INR", "INR", "INR", 1.0},
    Unit{D::money, "JPY", "JPY", "JPY", 1.0},
    Unit{D::money, "BRL", "BRL", "BRL", 1.0},
    Unit{D::money, "ZAR", "ZAR", "ZAR", 1.0},
    Unit{D::ratio, "1", "", "", 1.0},
    Unit{D::ratio, "%", "%", "%", 1.0, 1e2},
};

struct Spellings {
  std::string_view id;
  std::string_view written;  // separated by '|'
};

// Further spellings people type; ids, ascii forms and symbols are accepted as they stand.
constexpr std::array further{
    Spellings{"in", "\"|″|”|inch|inches"},
    Spellings{"ft", "'|′|’|foot|feet"},
    Spellings{"um", "μm"},
    Spellings{"mm", "millimetre|millimetres|millimeter|millimeters"},
    Spellings{"cm", "centimetre|centimetres|centimeter|centimeters"},
    Spellings{"m", "metre|metres|meter|meters"},
    Spellings{"cm2", "cm^2|sqcm|sq cm"},
    Spellings{"mm2", "mm^2|sq mm"},
    Spellings{"m2", "m^2|sq m"},
    Spellings{"in2", "in^2|sqin|sq in"},
    Spellings{"ft2", "ft^2|sq ft"},
    Spellings{"l", "L|litre|litres|liter|liters"},
    Spellings{"ml", "mL"},
    Spellings{"m3", "m^3"},
    Spellings{"g", "gram|grams"},
    Spellings{"lb", "lbs"},
    Spellings{"s", "sec|secs|second|seconds"},
    Spellings{"min", "mins|minute|minutes"},
    Spellings{"h", "hr|hrs|hour|hours"},
    Spellings{"d", "day|days"},
    Spellings{"wk", "week|weeks"},
    Spellings{"month", "months"},
    Spellings{"yr", "year|years"},
    Spellings{"degC", "ºC|℃|deg C|degree C|degrees C"},
    Spellings{"degF", "ºF|℉|deg F|degree F|degrees F"},
    Spellings{"deg", "degree|degrees"},
    Spellings{"kg/m3", "kg/m^3"},
    Spellings{"g/cm3", "g/cm^3"},
    Spellings{"g/m2", "g/m^2"},
    Spellings{"kg/m2", "kg/m^2"},
    Spellings{"W/mK", "W/(m K)|W/(mK)|W/m/K"},
    Spellings{"J/kgK", "J/(kg K)|J/kg/K"},
    Spellings{"kJ/kgK", "kJ/(kg K)"},
    Spellings{"J/gK", "J/(g K)"},
    Spellings{"W/m2K", "W/(m2 K)|W/(m2K)|W/m2/K|W/(m² K)|W/m^2K|W/m²K"},
    Spellings{"1/s", "/s"},
    Spellings{"1/K", "/K"},
    Spellings{"K2", "K^2"},
    Spellings{"W/m3", "W/m^3"},
    Spellings{"m2/s", "m^2/s"},
    Spellings{"%", "percent"},
};

/// Calls `visit(spelling, id)` for each of them.
template <class Visit>
void for_each_further_spelling(Visit visit) {
  for (const Spellings& row : further) {
    std::string_view rest = row.written;
    while (!rest.empty()) {
      const std::size_t end = std::min(rest.find('|'), rest.size());
      visit(rest.substr(0, end), row.id);
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
  }
}

struct Row {
  Dimension dimension;
  std::string_view word;
  PhysicalBounds bounds;
};

// Far wider than any bench figure: these catch slips of unit, while library fields set their own, narrower
// bounds.
constexpr std::array rows{
    Row{D::length, "length", {0.0, 100.0, false}},
    Row{D::area, "area", {0.0, 1e3, false}},
    Row{D::volume, "volume", {0.0, 10.0, false}},
    Row{D::mass, "mass", {0.0, 1e4, false}},
    Row{D::duration, "time", {0.0, 1e10, false}},
    // Colder than any transport of sheets, to where every sheet of this kind has decomposed or burns.
    Row{D::temperature, "temperature", {zero_C_K - 100.0, zero_C_K + 300.0, false}},
    Row{D::temperature_difference, "temperature difference", {-500.0, 1e5, false}},
    Row{D::angle, "angle", {-20.0, 20.0, false}},
    Row{D::density, "density", {0.0, 25e3, true}},
    Row{D::areal_density, "mass per area", {0.0, 100.0, false}},
    Row{D::conductivity, "thermal conductivity", {0.0, 500.0, true}},
    Row{D::specific_heat, "specific heat", {0.0, 1e5, true}},
    Row{D::latent_heat, "latent heat", {0.0, 3e6, false}},
    Row{D::film_coefficient, "film coefficient", {0.0, 1e6, false}},
    Row{D::thermal_resistance, "thermal resistance", {0.0, 10.0, false}},
    // Copper: 37e3.
    Row{D::thermal_effusivity, "thermal effusivity", {0.0, 1e5, true}},
    Row{D::pressure, "modulus or pressure", {0.0, 1e12, false}},
    Row{D::force, "force", {0.0, 1e5, false}},
    Row{D::speed, "speed", {0.0, 100.0, false}},
    Row{D::molar_energy, "energy per mole", {0.0, 1e7, false}},
    Row{D::rate, "rate", {0.0, 1e120, false}},
    Row{D::expansion, "expansion coefficient", {0.0, 1.0, false}},
    Row{D::kelvin_squared, "nucleation constant", {0.0, 1e8, false}},
    Row{D::power_per_volume, "heat per volume", {0.0, 1e7, false}},
    Row{D::diffusivity, "diffusivity", {0.0, 1.0, false}},
    Row{D::money, "price", {0.0, 1e9, false}},
    Row{D::ratio, "ratio", {-1e9, 1e9, false}},
};

const Row& row(Dimension dimension) {
  return rows.at(static_cast<std::size_t>(dimension));
}

constexpr bool rows_stand_in_enum_order() {
  for (std::size_t i = 0; i < rows.size(); ++i)
    if (static_cast<std::size_t>(rows[i].dimension) != i) return false;
  return true;
}
static_assert(rows_stand_in_enum_order());

const Unit* unit_named(Dimension dimension, std::string_view name) {
  if (name.empty()) return nullptr;
  for (const Unit& candidate : unit_table)
    if (candidate.dimension == dimension &&
        (candidate.id == name || candidate.symbol == name || candidate.ascii == name))
      return &candidate;
  return nullptr;
}

}  // namespace

std::string_view dimension_word(Dimension dimension) {
  return row(dimension).word;
}
PhysicalBounds physical_bounds(Dimension dimension) {
  return row(dimension).bounds;
}

const std::vector<Dimension>& all_dimensions() {
  static const std::vector<Dimension> dimensions = [] {
    std::vector<Dimension> all;
    for (const Row& each : rows) all.push_back(each.dimension);
    return all;
  }();
  return dimensions;
}

std::vector<const Unit*> units_of(Dimension dimension) {
  std::vector<const Unit*> found;
  for (const Unit& candidate : unit_table)
    if (candidate.dimension == dimension) found.push_back(&candidate);
  return found;
}

const Unit* find_unit(Dimension dimension, std::string_view spelling) {
  // Files write ids, so the longer list of further spellings is searched only when none fits.
  if (const Unit* unit = unit_named(dimension, spelling)) return unit;
  std::string_view id;
  for_each_further_spelling([&](std::string_view written, std::string_view meant) {
    if (written == spelling) id = meant;
  });
  return unit_named(dimension, id);
}

std::vector<std::string> spellings_of(Dimension dimension) {
  std::vector<std::string> all;
  for (const Unit* unit : units_of(dimension))
    for (const std::string_view form : {unit->id, unit->ascii, unit->symbol})
      if (!form.empty() && std::find(all.begin(), all.end(), form) == all.end()) all.emplace_back(form);
  for_each_further_spelling([&](std::string_view written, std::string_view id) {
    if (find_unit(dimension, id) != nullptr) all.emplace_back(written);
  });
  return all;
}

namespace units {
const Unit& millimetre() {
  return *find_unit(D::length, "mm");
}
const Unit& square_centimetre() {
  return *find_unit(D::area, "cm2");
}
const Unit& gram() {
  return *find_unit(D::mass, "g");
}
const Unit& second() {
  return *find_unit(D::duration, "s");
}
const Unit& celsius() {
  return *find_unit(D::temperature, "degC");
}
const Unit& kelvin_difference() {
  return *find_unit(D::temperature_difference, "K");
}
const Unit& newton() {
  return *find_unit(D::force, "N");
}
const Unit& one() {
  return *find_unit(D::ratio, "1");
}
const Unit& percent() {
  return *find_unit(D::ratio, "%");
}
}  // namespace units

std::string unit_list(Dimension dimension) {
  std::string list;
  for (const Unit* candidate : units_of(dimension)) {
    if (!list.empty()) list += ", ";
    list += candidate->ascii.empty() ? candidate->id : candidate->ascii;
  }
  return list;
}

}  // namespace warmsheet
