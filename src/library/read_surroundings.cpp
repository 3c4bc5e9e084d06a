// SPDX-License-Identifier: MIT
// Bath, room, air and what lies over or under the sheet (materials/surroundings.toml).
#include <fmt/format.h>

#include "base/dimension.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

using D = Dimension;

// Free convection in a puddle to a jet of water; 0 would never melt anything.
constexpr Limits film_limits_W_m2K{20.0, 20e3};
constexpr Limits bath_water_limits_m3{0.5e-3, 0.2};
// Where people work without a coat, and no warmer than skin: above that a sheet would not set on the limb.
constexpr Limits room_limits_K{zero_C_K + 10.0, zero_C_K + 35.0};
constexpr Limits humidity_limits{0.0, 1.0};
// Highest towns (about 5100 m) to the highest pressure met at sea level.
constexpr Limits pressure_limits_Pa{50e3, 110e3};
// 0.5 kg/m2 is half a millimetre: more runs off.
constexpr Limits water_film_limits_kg_m2{0.0, 0.5};
constexpr Limits contact_limits_m2K_W{0.0, 0.02};
// Loose fleece to wet cloth.
constexpr Limits towel_limits_W_s05_m2K{20.0, 1000.0};
// Still air to a desk fan.
constexpr Limits air_speed_limits_m_s{0.0, 3.0};
// A film of lint to a thick blanket.
constexpr Limits covering_limits_m2K_W{1e-4, 1.0};

Covering read_covering(toml::Reader& entry, const std::string& id) {
  return {id, entry.text("name"), entry.figure("resistance", D::thermal_resistance, covering_limits_m2K_W)};
}

BathState read_bath_state(toml::Reader& entry, const std::string& id) {
  return {id, entry.text("name"), entry.figure("film", D::film_coefficient, film_limits_W_m2K)};
}

void check_films(toml::Reader& reader, const Surroundings& read) {
  if (read.dried_film.si() > read.water_film.si())
    reader.problem(
        "dried_film", "more water is left after drying than before",
        fmt::format("water_film is {:g} {}", read.water_film.value(), read.water_film.unit().ascii));
}

}  // namespace

Surroundings read_surroundings(const toml::Value& file, Problems& problems) {
  const CleanSoFar clean(problems);
  toml::Reader reader(file, "surroundings", problems);
  Surroundings read{
      .bath_states = read_by_id(reader, "bath_state", read_bath_state),
      .bath_water = reader.figure("bath_water", D::volume, bath_water_limits_m3),
      .room = reader.figure("room", D::temperature, room_limits_K),
      .relative_humidity = reader.figure("relative_humidity", D::ratio, humidity_limits),
      .pressure = reader.figure("pressure", D::pressure, pressure_limits_Pa),
      .water_film = reader.figure("water_film", D::areal_density, water_film_limits_kg_m2),
      .dried_film = reader.figure("dried_film", D::areal_density, water_film_limits_kg_m2),
      .contact_resistance = reader.figure("contact_resistance", D::thermal_resistance, contact_limits_m2K_W),
      .towel_effusivity = reader.figure("towel_effusivity", D::thermal_effusivity, towel_limits_W_s05_m2K),
      .air_speed = reader.figure("air_speed", D::speed, air_speed_limits_m_s),
      .liners = read_by_id(reader, "liner", read_covering),
      .wraps = read_by_id(reader, "wrap", read_covering)};
  if (read.bath_states.empty())
    reader.problem("bath_state", "no bath state is listed", "write [[bath_state]] with id, name and film");
  if (clean) check_films(reader, read);
  return read;
}

}  // namespace warmsheet::library
