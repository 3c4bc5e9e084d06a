// SPDX-License-Identifier: MIT
// Melting and freezing in equilibrium against Neumann's solution, Plank's equation and the enthalpy's own
// identities.
#include <rapidcheck.h>

#include <array>
#include <cmath>
#include <numbers>

#include "heat/cases.h"
#include "heat/exact.h"
#include "heat/instants.h"
#include "heat/slab.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

using testing::near_abs;
using testing::near_rel;

struct Melt {
  double conductivity, density, heat_solid, heat_melt, latent, melting_K;
};

/// Depth of the front after `time_s`, from a wall held at `wall_K`; melting at one temperature.
double front_m(const Melt& m, double depth_m, std::size_t cells, double start_K, double wall_K,
               double time_s) {
  const SlabLayer layer{.conductivity_W_mK = m.conductivity,
                        .phases = {m.density, m.heat_solid, m.heat_melt, m.latent, m.melting_K, m.melting_K},
                        .widths_m = growing_widths(depth_m, cells, 1.0)};
  Slab slab({layer}, Face::held(wall_K), Face::insulated(), {0.05, 1e-4, 1e4});
  slab.set_temperature([&](double) { return start_K; });
  while (slab.time_s() < time_s) slab.step(time_s);
  const double molten = 1.0 - slab.mean_crystallinity(slab.state(), 0, slab.cells());
  return depth_m * (wall_K > m.melting_K ? molten : 1.0 - molten);
}

TEST_CASE("one-phase melting from a held wall follows Neumann's solution") {
  // Problem after Alexiades & Solomon (1993) 2.1 in an open example: k 1.5, c 2500, rho 870, L 179 kJ/kg,
  // wall 10 K above melting, 36 000 s, 0.1 m: about 81 % molten. Closed form: Ste 0.139665, lambda 0.258415,
  // X 0.081436 m.
  const Melt m{1.5, 870.0, 2500.0, 2500.0, 179e3, 300.0};
  const double lambda = stefan_lambda(0.139665);
  CHECK(near_abs(lambda, 0.258415, 1e-6));
  CHECK(near_abs(2.0 * lambda * std::sqrt(1.5 / (870.0 * 2500.0) * 36000.0), 0.081436, 1e-6));
  // A front inside a cell lags by a part of that cell: 0.5 % with 100 cells.
  CHECK(near_rel(front_m(m, 0.1, 100, 300.0 - 1e-6, 310.0, 36000.0), 0.081436, 0.005));
}

TEST_CASE("Neumann's lambda has the values of the table") {
  // Solved from Carslaw & Jaeger (1959) p. 287; the table was recomputed apart from this code, five digits.
  struct Row {
    double Ste, lambda;
  };
  for (const Row& row : {Row{0.01, 0.07059}, Row{0.1, 0.22002}, Row{0.2, 0.30642}, Row{0.5, 0.46479},
                         Row{1.0, 0.62006}, Row{2.0, 0.80060}, Row{5.0, 1.05969}}) {
    CAPTURE(row.Ste);
    CHECK(near_abs(stefan_lambda(row.Ste), row.lambda, 6e-6));
  }
}

TEST_CASE("ice grows by the handbook's depth in an hour") {
  // k 2.22, c 2050, rho 917, L 334 kJ/kg, surface -10 C on water at 0 C: lambda 0.17343, 22.6 mm in 1 h, 111
  // mm in a day.
  const Melt ice{2.22, 917.0, 2050.0, 2050.0, 334e3, kelvin(0.0)};
  const double lambda = stefan_lambda(2050.0 * 10.0 / 334e3);
  CHECK(near_abs(lambda, 0.17343, 1e-5));
  const double exact_m = 2.0 * lambda * std::sqrt(2.22 / (917.0 * 2050.0) * 3600.0);
  CHECK(near_abs(exact_m * 1e3, 22.6, 0.05));
  CHECK(near_rel(front_m(ice, 0.05, 150, kelvin(1e-6), kelvin(-10.0), 3600.0), exact_m, 0.005));
}

TEST_CASE("two-phase melting follows Neumann's solution with both sides conducting") {
  // Carslaw & Jaeger 11.2 (IX) for equal conductivity and density; solid starts 28 K below melting, wall 12 K
  // above it: a sheet of a sheet's properties in a 72 C bath of no film.
  const Melt m{0.2, 1145.0, 1750.0, 2050.0, 75e3, 333.0};
  const double lambda = neumann_lambda(2050.0 * 12.0 / 75e3, 1750.0 * 28.0 / 75e3, 1750.0 / 2050.0);
  const double exact_m = 2.0 * lambda * std::sqrt(0.2 / (1145.0 * 2050.0) * 120.0);
  CHECK(near_rel(front_m(m, 0.02, 400, 305.0, 345.0, 120.0), exact_m, 0.01));
  // With nothing to warm on the far side it is the one-phase case.
  CHECK(near_rel(neumann_lambda(0.139665, 0.0, 1.0), 0.258415, 1e-5));
}

/// Plank's P and R for a plate, a long cylinder and a sphere.
struct PlankShape {
  Shape shape;
  double P, R;
};
constexpr PlankShape plank_plate{Shape::plate, 1.0 / 2, 1.0 / 8};
constexpr PlankShape plank_cylinder{Shape::cylinder, 1.0 / 4, 1.0 / 16};
constexpr PlankShape plank_sphere{Shape::sphere, 1.0 / 6, 1.0 / 24};

struct PlankCase {
  const char* name;
  PlankShape of;
  double across_m, density, latent, conductivity, film, wrapping_m2K_W, below_K;

  [[nodiscard]] double film_with_wrapping() const { return 1.0 / (1.0 / film + wrapping_m2K_W); }
  [[nodiscard]] double hours() const {
    return density * latent / below_K *
           (of.P * across_m / film_with_wrapping() + of.R * across_m * across_m / conductivity) / 3600.0;
  }
};

/// By the solver. Plank leaves out the heat of the frozen part, so a tiny heat capacity stands in.
double solved_hours(const PlankCase& c) {
  const SlabLayer layer{.conductivity_W_mK = c.conductivity,
                        .phases = {c.density, 1.0, 1.0, c.latent, 300.0, 300.0},
                        .widths_m = growing_widths(0.5 * c.across_m, 60, 1.0)};
  Face cold = Face::film(c.film, 300.0 - c.below_K);
  cold.resistance_m2K_W = c.wrapping_m2K_W;
  Slab slab({layer}, Face::insulated(), cold, {0.02, 0.01, 600.0}, c.of.shape);
  slab.set_temperature([](double) { return 300.0 + 1e-6; });
  RiseWatch frozen(0.99999);
  while (!frozen.time_s()) {
    const SlabStep step = slab.step(1e6);
    std::array<double, 3> share{};
    for (std::size_t i = 0; i < 3; ++i) share[i] = slab.mean_crystallinity(*step.state[i], 0, slab.cells());
    frozen.see(step.time_s, share);
  }
  return *frozen.time_s() / 3600.0;
}

struct PlankAnswer {
  PlankCase asked;
  double hours;
  double tolerance;  ///< of the printed digits
};

TEST_CASE("slabs and spheres freeze in the time of Plank's worked examples, bare and wrapped") {
  // t = rho L / dT (P a / h + R a^2 / k). Meat: Earle, Unit Operations in Food Processing, ch. 6 (data from
  // memory): 4.1 h wrapped in 1 mm of cardboard (k 0.06) each side, 2.1 h bare. Sphere of 7 cm, -1.25 C in
  // air at -40 C, h 50, k 1.2, rho 1000, L 250 kJ/kg: 0.72 h, in a film of 3 mm (k 0.2) 1.037 h, read in a
  // public solution sheet. The cells give 1 %.
  for (const PlankAnswer& c :
       {PlankAnswer{{"meat, bare", plank_plate, 0.1, 1090.0, 2.56e5, 1.6, 600.0, 0.0, 32.0}, 2.1, 0.03},
        PlankAnswer{
            {"meat, wrapped", plank_plate, 0.1, 1090.0, 2.56e5, 1.6, 600.0, 1e-3 / 0.06, 32.0}, 4.1, 0.03},
        PlankAnswer{{"slab 40 mm", plank_plate, 0.04, 1050.0, 280e3, 1.6, 25.0, 0.0, 20.0}, 3.78, 0.005},
        PlankAnswer{{"sphere, bare", plank_sphere, 0.07, 1000.0, 250e3, 1.2, 50.0, 0.0, 38.75}, 0.72, 0.007},
        PlankAnswer{{"sphere, wrapped", plank_sphere, 0.07, 1000.0, 250e3, 1.2, 50.0, 3e-3 / 0.2, 38.75},
                    1.037,
                    0.001}}) {
    CAPTURE(c.asked.name);
    CHECK(near_rel(c.asked.hours(), c.hours, c.tolerance));
    CHECK(near_rel(solved_hours(c.asked), c.asked.hours(), 0.01));
  }
}

TEST_CASE("a rod freezes in the time of Plank's equation too") {
  // P 1/4, R 1/16; no worked example of a rod was found.
  const PlankCase c{"rod", plank_cylinder, 0.05, 1000.0, 250e3, 1.0, 40.0, 0.0, 30.0};
  CHECK(near_rel(solved_hours(c), c.hours(), 0.01));
}

TEST_CASE("temperature and enthalpy are each other's inverse at every crystallinity") {
  CHECK(rc::check([] {
    const auto number = [](double low, double high) {
      return low + (high - low) * *rc::gen::inRange(0, 10000) / 1e4;
    };
    const double start = number(315.0, 330.0);
    HeatContent content(Phases{number(900.0, 1600.0), number(1300.0, 2100.0), number(1300.0, 2300.0),
                               number(0.0, 90e3), start, start + number(0.1, 20.0)});
    content.set_crystallinity(number(0.0, 1.0));
    const double T = number(280.0, 360.0);
    RC_ASSERT(std::abs(content.temperature(content.enthalpy(T)).K - T) < 1e-8);
  }));
}

TEST_CASE("enthalpy is a function of state: melting part of the crystals moves along one line") {
  HeatContent full(neat(1e-3).phases);
  HeatContent partly = full;
  const double H = full.enthalpy(kelvin(55.0));
  const double left = full.crystallinity(H);
  CHECK(near_abs(left, 0.5, 1e-12));
  partly.set_crystallinity(left);
  CHECK(near_abs(partly.temperature(H).K, kelvin(55.0), 1e-9));
  CHECK(near_rel(partly.enthalpy(kelvin(58.0)), full.enthalpy(kelvin(58.0)), 1e-12));
}

TEST_CASE("the latent heat of the whole transition follows Kirchhoff's law") {
  // L at T = L at the middle of the range + (c_melt - c_solid)(T - T_middle).
  const Phases p = neat(1e-3).phases;
  HeatContent solid(p);
  HeatContent melt(p);
  melt.set_crystallinity(0.0);
  for (const double T : {kelvin(20.0), kelvin(40.0), kelvin(49.0)}) {
    const double released = (melt.enthalpy(T) - solid.enthalpy(T)) / p.density_kg_m3;
    CHECK(near_rel(released, 75e3 + 300.0 * (T - kelvin(55.0)), 1e-9));
  }
}

TEST_CASE("without latent heat nothing divides by zero, even when it melts at one temperature") {
  for (const double width : {0.0, 10.0}) {
    HeatContent content(Phases{1000.0, 2000.0, 2000.0, 0.0, 330.0, 330.0 + width});
    for (const double share : {0.0, 0.5, 1.0}) {
      content.set_crystallinity(share);
      for (const double T : {300.0, 330.0, 335.0, 350.0}) {
        const HeatContent::Temperature found = content.temperature(content.enthalpy(T));
        CHECK(near_abs(found.K, T, 1e-9));
        CHECK(near_rel(found.slope, 5e-7, 1e-9));
        CHECK(std::isfinite(content.crystallinity(content.enthalpy(T))));
      }
    }
  }
}

}  // namespace
}  // namespace warmsheet::heat_tests
