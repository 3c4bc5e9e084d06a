// SPDX-License-Identifier: MIT
// Convection, radiation and evaporation against worked examples and property tables.
#include "heat/air.h"

#include <cmath>

#include "heat/cases.h"
#include "heat/exact.h"
#include "heat/surface.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

using testing::near_abs;
using testing::near_rel;

Room still(double air_C, double humidity = 0.5) {
  return {kelvin(air_C), kelvin(air_C), humidity, atmosphere_Pa, 0.0};
}

TEST_CASE("the handbook's hot plate loses what the worked example says, upright, up and down") {
  // Cengel & Ghajar 5e example 9-2: 0.6 x 0.6 m at 90 C in air at 30 C. Upright: Ra 7.649e8, Nu 113.3,
  // h 5.302 W/m2K, 115 W; up: Lc 0.15 m, Ra 1.195e7 (Nu 31.75 by 0.54 Ra^1/4), h 5.944; down: Nu 15.87,
  // h 2.971; black radiation 182 W.
  const Plate plate{0.36, 1.0};
  const Room room = still(30.0);
  const double hot = kelvin(90.0);
  CHECK(near_rel(convection_W_m2K(plate, Facing::sideways, room, hot), 5.302, 0.002));
  CHECK(near_rel(convection_W_m2K(plate, Facing::sideways, room, hot) * 0.36 * 60.0, 115.0, 0.005));
  CHECK(near_rel(convection_W_m2K(plate, Facing::downward, room, hot), 2.971, 0.002));
  CHECK(near_rel(radiation_W_m2(plate, room, hot) * 0.36, 182.0, 0.005));
  // The example takes the laminar law at Ra 1.195e7, just past its end at 1e7, where ours changes to the
  // turbulent one.
  CHECK(near_rel(nusselt_upward(0.999e7), 0.54 * std::pow(0.999e7, 0.25), 1e-12));
  const AirFilm film = air_film(kelvin(60.0), atmosphere_Pa);
  CHECK(near_rel(film.conductivity_W_mK / 0.15 * 0.54 * std::pow(1.195e7, 0.25), 5.944, 0.001));
  CHECK(convection_W_m2K(plate, Facing::upward, room, hot) > 5.944);
}

TEST_CASE("Nusselt numbers of the worked examples") {
  CHECK(near_rel(nusselt_vertical(7.649e8, 0.7202), 113.3, 0.002));
  CHECK(near_rel(nusselt_downward(1.195e7), 15.87, 0.002));
  // Example 14-14 (open bath): Gr 2.121e8, Pr 0.7262 upward: 0.15 Ra^1/3 = 80.41.
  CHECK(near_rel(nusselt_upward(2.121e8 * 0.7262), 80.41, 0.002));
}

TEST_CASE("air has the handbook's properties at film temperatures") {
  // Cengel & Ghajar 5e table A-15 and its interpolations at 37.5 and 55 C.
  struct Row {
    double celsius, conductivity, prandtl, viscosity;
  };
  for (const Row& row : {Row{37.5, 0.02644, 0.7262, 1.679e-5}, Row{45.0, 0.02699, 0.7241, 1.750e-5},
                         Row{55.0, 0.02772, 0.7215, 1.847e-5}, Row{60.0, 0.02808, 0.7202, 1.896e-5}}) {
    CAPTURE(row.celsius);
    const AirFilm film = air_film(kelvin(row.celsius), atmosphere_Pa);
    CHECK(near_rel(film.conductivity_W_mK, row.conductivity, 5e-4));
    CHECK(near_rel(film.prandtl, row.prandtl, 5e-4));
    CHECK(near_rel(film.viscosity_m2_s, row.viscosity, 1e-3));
  }
}

TEST_CASE("water has the steam tables' pressure, heat and diffusivity") {
  // Vapour pressure at 40 and 60 C: 7.384 and 19.94 kPa (read); 25.0, 31.2, 38.6 kPa at 65, 70, 75 C from
  // memory.
  CHECK(near_rel(saturation_Pa(kelvin(40.0)), 7384.0, 0.003));
  CHECK(near_rel(saturation_Pa(kelvin(60.0)), 19940.0, 0.003));
  CHECK(near_rel(saturation_Pa(kelvin(70.0)), 31200.0, 0.003));
  // Heat of vaporisation 2358, 2346, 2334 kJ/kg at 60, 65, 70 C: from memory of the same table.
  CHECK(near_rel(vaporisation_J_kg(kelvin(60.0)), 2358e3, 0.001));
  CHECK(near_rel(vaporisation_J_kg(kelvin(70.0)), 2334e3, 0.0015));
  // Cengel & Ghajar examples 14-13 and 14-14: D 2.50e-5 at 25 C and 1 atm, 3.00e-5 at 37.5 C and 92 kPa.
  CHECK(near_rel(vapour_diffusivity_m2_s(kelvin(25.0), atmosphere_Pa), 2.50e-5, 0.005));
  CHECK(near_rel(vapour_diffusivity_m2_s(kelvin(37.5), 92e3), 3.00e-5, 0.005));
}

TEST_CASE("a wet cloth cools to the worked temperature") {
  // Cengel & Ghajar example 14-13: air 30 C, 40 % humidity: 19.4 C. Convection in balances evaporation out; h
  // cancels, so radiation (walls at the surface's temperature) and the size do not matter.
  const Room room{kelvin(30.0), kelvin(30.0), 0.4, atmosphere_Pa, 0.0};
  const double balance = bisect(
      [&](double C) {
        Room around = room;
        around.walls_K = kelvin(C);
        return wet_loss_W_m2({0.01, 0.95}, Facing::sideways, around, kelvin(C));
      },
      10.0, 29.0);
  CHECK(near_abs(balance, 19.4, 0.3));
}

TEST_CASE("an open bath loses what the worked example says") {
  // Cengel & Ghajar example 14-14: 50 C, 3.5 x 1 m, air 25 C 52 % 92 kPa, walls 20 C: radiation 663 W; moist
  // air over the water gives Gr 2.121e8, Nu 80.41, h 5.47, convection 479 W; Sh 76.1, evaporation 3.47 kW.
  // 1.5 %: its properties are rounded to three digits.
  const Room room{kelvin(25.0), kelvin(20.0), 0.52, 92e3, 0.0};
  const Plate plate{3.5, 0.95};
  const double bath_K = kelvin(50.0);
  const double h = convection_W_m2K(plate, Facing::upward, room, bath_K, Surface::wet);
  const double evaporation_W =
      evaporation_kg_m2s(plate, Facing::upward, room, bath_K) * vaporisation_J_kg(bath_K) * 3.5;
  CHECK(near_rel(radiation_W_m2(plate, room, bath_K) * 3.5, 663.0, 0.005));
  CHECK(near_rel(h, 5.47, 0.015));
  CHECK(near_rel(h * 3.5 * 25.0, 479.0, 0.015));
  CHECK(near_rel(evaporation_W, 3470.0, 0.015));
  CHECK(near_rel(evaporation_W / (h * 3.5 * 25.0), 3470.0 / 479.0, 0.01));
  CHECK(near_rel(wet_loss_W_m2(plate, Facing::upward, room, bath_K) * 3.5, 663.0 + 479.0 + 3470.0, 0.015));
}

TEST_CASE("a wet face stirs the air more than a dry one, and not at all where the air is as light") {
  const Plate plate{0.04, 0.93};
  const Room room = still(22.0);
  for (const double C : {30.0, 50.0, 65.0, 80.0, 95.0}) {
    CAPTURE(C);
    const double dry = convection_W_m2K(plate, Facing::upward, room, kelvin(C));
    const double wet = convection_W_m2K(plate, Facing::upward, room, kelvin(C), Surface::wet);
    CHECK(wet > dry);
    CHECK(wet < 1.6 * dry);  // (vapour lightens by up to 38 % of its share)^(1/4)
  }
  // At the room's own dew point and temperature nothing is lighter: saturated air over water at air's warmth.
  const Room misty = still(40.0, 1.0);
  CHECK(convection_W_m2K(plate, Facing::upward, misty, kelvin(40.0), Surface::wet) < 1e-6);
}

TEST_CASE(
    "a draught and still air combine to more than each, and a cold face behaves as a warm one upside down") {
  const Plate plate{0.04, 0.93};
  Room room = still(22.0);
  const double quiet = convection_W_m2K(plate, Facing::sideways, room, kelvin(60.0));
  room.air_speed_m_s = 0.5;
  const double windy = convection_W_m2K(plate, Facing::sideways, room, kelvin(60.0));
  CHECK(windy > quiet);
  CHECK(windy < 2.0 * quiet + 10.0);
  const Room warm = still(60.0);
  CHECK(near_rel(convection_W_m2K(plate, Facing::upward, warm, kelvin(22.0)),
                 convection_W_m2K(plate, Facing::downward, still(22.0), kelvin(60.0)), 0.05));
}

TEST_CASE("a table of losses is as good as the law it came from") {
  const Plate plate{0.04, 0.93};
  const Room room = still(22.0);
  const auto law = [&](double K) { return wet_loss_W_m2(plate, Facing::upward, room, K); };
  const LossTable table(law, kelvin(17.0), kelvin(75.0), 1.0);
  for (double C = 30.0; C < 75.0; C += 0.37) {
    CAPTURE(C);
    CHECK(near_rel(table.at(kelvin(C)).W_m2, law(kelvin(C)), 8e-4));
  }
}

TEST_CASE("faces lose what they are told, through the half cell to their surroundings") {
  const auto flux = [](const Face& face) { return exchange(face, 0.002, 350.0, 350.0).W_m2; };
  CHECK(near_abs(flux(Face::insulated()), 0.0, 1e-12));
  CHECK(near_rel(flux(Face::held(300.0)), 50.0 / 0.002, 1e-12));
  CHECK(near_rel(flux(Face::film(500.0, 300.0)), 50.0 / 0.004, 1e-12));
  CHECK(near_rel(flux(Face::flux(123.0)), 123.0, 1e-12));
  const LossTable linear([](double K) { return 500.0 * (K - 300.0); }, 290.0, 360.0, 1.0);
  CHECK(near_rel(flux(Face::losing(linear)), 50.0 / 0.004, 1e-9));
  CHECK(near_rel(flux(Face::losing(linear, 0.006)), 50.0 / 0.010, 1e-9));
}

}  // namespace
}  // namespace warmsheet::heat_tests
