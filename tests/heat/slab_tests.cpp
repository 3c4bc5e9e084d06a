// SPDX-License-Identifier: MIT
// The solver against conduction without phase change: series, error functions, handbook tables and worked
// examples.
#include "heat/slab.h"

#include <rapidcheck.h>

#include <array>
#include <cmath>
#include <numbers>

#include "heat/cases.h"
#include "heat/exact.h"
#include "heat/instants.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

using testing::near_abs;
using testing::near_rel;

constexpr double unit_alpha_density = 1000.0;  // with heat 1000 and conductivity 1: diffusivity 1e-6 m2/s

SlabLayer plain(double conductivity, double density, double heat, std::vector<double> widths) {
  return {.conductivity_W_mK = conductivity,
          .phases = Phases::unchanging(density, heat),
          .widths_m = std::move(widths)};
}

void run_to(Slab& slab, double until_s) {
  while (slab.time_s() < until_s) slab.step(until_s);
}

/// Half a plane wall, 10 mm, that starts 50 K below its surroundings.
Slab wall(double Bi, std::size_t cells, StepControl control, double growth = 0.95) {
  constexpr double half_m = 0.01;
  Slab slab({plain(1.0, unit_alpha_density, 1000.0, growing_widths(half_m, cells, growth))},
            Face::insulated(), Face::film(Bi / half_m, 350.0), control);
  slab.set_temperature([](double) { return 300.0; });
  return slab;
}

double wall_seconds(double Fo) {
  return Fo * 0.01 * 0.01 / 1e-6;
}

double middle_share(const Slab& slab) {
  const double first = 0.5 * slab.width_m(0);
  const double second = slab.width_m(0) + 0.5 * slab.width_m(1);
  const auto& T = slab.state().temperature_K;
  const double middle = T[0] + (T[0] - T[1]) * first * first / (second * second - first * first);
  return (middle - 350.0) / -50.0;
}

const StepControl tight{1e-4, 1e-4, 1e3};

TEST_CASE("a plane wall follows the exact series, middle and surface") {
  // Carslaw & Jaeger (1959) 3.11, 60 terms. 1e-3 of the initial difference: 40 cells err by z^2 dx^2 / 12 of
  // the decay.
  for (const double Bi : {0.5, 1.0, 4.0, 5.0, 20.0})
    for (const double Fo : {0.1, 0.2, 0.5, 1.0}) {
      CAPTURE(Bi);
      CAPTURE(Fo);
      Slab slab = wall(Bi, 40, tight);
      run_to(slab, wall_seconds(Fo));
      CHECK(near_abs(middle_share(slab), wall_share(Bi, Fo, 0.0), 1e-3));
      CHECK(near_abs((slab.state().right_surface_K - 350.0) / -50.0, wall_share(Bi, Fo, 1.0), 1e-3));
    }
}

struct OneTerm {
  double Bi, z1, A1;
};
// Cengel & Ghajar, Heat and Mass Transfer 5e, Table 4-2, plane wall: the whole column as printed.
constexpr std::array one_term_table{
    OneTerm{0.01, 0.0998, 1.0017}, OneTerm{0.02, 0.1410, 1.0033}, OneTerm{0.04, 0.1987, 1.0066},
    OneTerm{0.06, 0.2425, 1.0098}, OneTerm{0.08, 0.2791, 1.0130}, OneTerm{0.1, 0.3111, 1.0161},
    OneTerm{0.2, 0.4328, 1.0311},  OneTerm{0.3, 0.5218, 1.0450},  OneTerm{0.4, 0.5932, 1.0580},
    OneTerm{0.5, 0.6533, 1.0701},  OneTerm{0.6, 0.7051, 1.0814},  OneTerm{0.7, 0.7506, 1.0918},
    OneTerm{0.8, 0.7910, 1.1016},  OneTerm{0.9, 0.8274, 1.1107},  OneTerm{1.0, 0.8603, 1.1191},
    OneTerm{2.0, 1.0769, 1.1785},  OneTerm{3.0, 1.1925, 1.2102},  OneTerm{4.0, 1.2646, 1.2287},
    OneTerm{5.0, 1.3138, 1.2403},  OneTerm{6.0, 1.3496, 1.2479},  OneTerm{7.0, 1.3766, 1.2532},
    OneTerm{8.0, 1.3978, 1.2570},  OneTerm{9.0, 1.4149, 1.2598},  OneTerm{10.0, 1.4289, 1.2620},
    OneTerm{20.0, 1.4961, 1.2699}, OneTerm{30.0, 1.5202, 1.2717}, OneTerm{40.0, 1.5325, 1.2723},
    OneTerm{50.0, 1.5400, 1.2727}, OneTerm{100.0, 1.5552, 1.2731}};

TEST_CASE("the handbook's one-term table holds for the solver at every Biot number") {
  // theta0 = A1 exp(-z1^2 Fo), at the Fo where it is 0.4. z1 is printed to 1e-4: its rounding alone moves
  // theta0 by 2 z1 Fo 5e-5 theta0, up to 0.4 % at Bi 0.01; the solver gets 5e-4 on top.
  for (const OneTerm& row : one_term_table) {
    CAPTURE(row.Bi);
    const double Fo = std::log(row.A1 / 0.4) / (row.z1 * row.z1);
    Slab slab = wall(row.Bi, 40, tight);
    run_to(slab, wall_seconds(Fo));
    CHECK(near_abs(middle_share(slab), 0.4, 0.4 * 2.0 * row.z1 * Fo * 6e-5 + 5e-4));
    CHECK(near_abs(wall_root(row.Bi, 0), row.z1, 1e-4));
  }
}

TEST_CASE("a half-space with a held surface follows the error function") {
  // Carslaw & Jaeger 2.4; the numbers: single-layer skin k 0.37, rho c 1100 x 3400, step from 33 to 60 C
  // (closed form).
  const double alpha = 0.37 / (1100.0 * 3400.0);
  Slab slab({plain(0.37, 1100.0, 3400.0, growing_widths(0.03, 90, 1.06))}, Face::held(kelvin(60.0)),
            Face::insulated(), {1e-3, 1e-5, 100.0});
  slab.set_temperature([](double) { return kelvin(33.0); });
  for (const double t : {1.0, 5.0, 10.0, 30.0, 60.0}) {
    run_to(slab, t);
    double x = 0.0;
    for (std::size_t i = 0; i < 60; ++i) {
      const double depth = x + 0.5 * slab.width_m(i);
      x += slab.width_m(i);
      CAPTURE(t);
      CAPTURE(depth);
      const double exact = 60.0 - 27.0 * std::erf(depth / (2.0 * std::sqrt(alpha * t)));
      // 0.02 K of the 27 K step: a graded grid of 90 cells.
      CHECK(near_abs(celsius(slab.state().temperature_K[i]), exact, 0.02));
    }
  }
}

TEST_CASE("a half-space under constant flux warms at its surface with the root of time") {
  // Carslaw & Jaeger 2.9: rise 2 q sqrt(t / pi) / sqrt(k rho c); q 5 kW/m2, inertia
  // 1176.35: 4.796 10.724 15.167 26.269 K.
  Slab slab({plain(0.37, 1100.0, 3400.0, growing_widths(0.03, 90, 1.06))}, Face::flux(-5000.0),
            Face::insulated(), {1e-3, 1e-5, 100.0});
  slab.set_temperature([](double) { return 300.0; });
  struct Row {
    double t, rise;
  };
  for (const Row& row : {Row{1.0, 4.796}, Row{5.0, 10.724}, Row{10.0, 15.167}, Row{30.0, 26.269}}) {
    CAPTURE(row.t);
    run_to(slab, row.t);
    CHECK(near_rel(slab.state().left_surface_K - 300.0, row.rise, 1e-3));
  }
}

TEST_CASE("two bodies in contact meet at the temperature their thermal inertias say") {
  // Cengel & Ghajar 5e eq. 4-49 and its example: flesh 1.1 at 35 C on aluminium 24 and on wood 0.38
  // kJ/m2Ks^0.5 at 15 C: 15.9 C and 30 C. Printed to the digits given; rho c = 1e6 and k to match.
  struct Row {
    double inertia, celsius, printed;
  };
  for (const Row& row : {Row{24e3, 15.0, 15.9}, Row{380.0, 15.0, 30.0}}) {
    CAPTURE(row.inertia);
    const auto half_space = [](double inertia, bool mirrored) {
      const double conductivity = inertia * inertia / 1e6;
      std::vector<double> widths = growing_widths(0.05 * std::sqrt(conductivity), 80, 1.08);
      return plain(conductivity, 1000.0, 1000.0, mirrored ? reversed(widths) : widths);
    };
    Slab slab({half_space(1100.0, true), half_space(row.inertia, false)}, Face::insulated(),
              Face::insulated(), {1e-3, 1e-6, 10.0});
    double flesh_m = 0.0;
    for (std::size_t i = 0; i < 80; ++i) flesh_m += slab.width_m(i);
    slab.set_temperature([&](double x) { return kelvin(x < flesh_m ? 35.0 : row.celsius); });
    for (const double t : {0.05, 0.5, 5.0}) {
      run_to(slab, t);
      const double exact = (1100.0 * 35.0 + row.inertia * row.celsius) / (1100.0 + row.inertia);
      CHECK(near_abs(celsius(slab.interface_K(slab.state(), 80)), exact, 0.05));
    }
    CHECK(near_abs(celsius(slab.interface_K(slab.state(), 80)), row.printed, 0.2));
  }
}

TEST_CASE("the soil of the handbook freezes to the depth it says") {
  // Cengel & Ghajar 5e example 4-6: soil at 15 C, surface held at -10 C for 90 days, alpha 0.15e-6 m2/s: 0 C
  // at 0.80 m from the chart; exact by the error function 0.776 m.
  Slab slab({plain(0.15, 1000.0, 1000.0, growing_widths(12.0, 120, 1.04))}, Face::held(kelvin(-10.0)),
            Face::insulated(), {0.01, 1.0, 1e6});
  slab.set_temperature([](double) { return kelvin(15.0); });
  run_to(slab, 90.0 * 86400.0);
  double x = 0.0;
  std::size_t i = 0;
  while (slab.state().temperature_K[i] < kelvin(0.0)) x += slab.width_m(i++);
  const double share = bisect([](double e) { return 15.0 - 25.0 * std::erfc(e); }, 0.0, 2.0);
  const double exact_m = share * 2.0 * std::sqrt(0.15e-6 * 90.0 * 86400.0);
  CHECK(near_abs(exact_m, 0.79, 0.02));
  CHECK(near_abs(x, exact_m, slab.width_m(i)));
}

TEST_CASE("the brass plate of the handbook leaves the oven at the worked temperature") {
  // Cengel & Ghajar 5e example 4-4: 4 cm thick, 20 C into 500 C, h 120, k 110, rho 8530, cp 380, 7 min: 282 C
  // read from the chart, 279 C lumped. The series gives 279.6 C at the surface.
  Slab slab({plain(110.0, 8530.0, 380.0, growing_widths(0.02, 20, 1.0))}, Face::insulated(),
            Face::film(120.0, kelvin(500.0)), {0.01, 0.1, 60.0});
  slab.set_temperature([](double) { return kelvin(20.0); });
  run_to(slab, 420.0);
  const double lumped = 500.0 - 480.0 * std::exp(-120.0 / (8530.0 * 0.02 * 380.0) * 420.0);
  CHECK(near_abs(lumped, 279.0, 0.5));
  CHECK(near_abs(celsius(slab.state().right_surface_K), 279.6, 0.3));
  CHECK(near_abs(celsius(slab.state().temperature_K[0]), 277.2, 0.3));
}

/// A body that starts at `start_K` in a film to `around_K`, stepped to `until_s`.
Slab dipped(Shape shape, double radius_m, double conductivity, double diffusivity, double film,
            double start_K, double around_K, double until_s) {
  // Only the diffusivity counts: density times heat is conductivity over diffusivity.
  Slab slab(
      {plain(conductivity, 1000.0, conductivity / diffusivity / 1000.0, growing_widths(radius_m, 40, 1.0))},
      Face::insulated(), Face::film(film, around_K), {1e-3, 1e-3, 100.0}, shape);
  slab.set_temperature([&](double) { return start_K; });
  run_to(slab, until_s);
  return slab;
}

TEST_CASE("the handbook's egg and shaft reach their middle temperatures when it says") {
  // Cengel & Ghajar 5e example 4-3: a sphere of 5 cm from 5 C in water at 95 C, h 1200, k 0.627, alpha
  // 0.151e-6: 70 C in the middle after 865 s, by the first term of the series, which gives 0.3 K more at
  // Fo 0.21 than all of them. Example 4-5: a shaft of 0.2 m from 600 C in air at 200 C, h 80, k 14.9, alpha
  // 3.95e-6: 364 C in the middle after 45 min by the first term (z and A1 printed to three digits: 1 K).
  const Slab egg = dipped(Shape::sphere, 0.025, 0.627, 0.151e-6, 1200.0, kelvin(5.0), kelvin(95.0), 865.0);
  CHECK(near_abs(celsius(egg.state().temperature_K[0]), 70.0, 0.5));
  const Slab shaft = dipped(Shape::cylinder, 0.1, 14.9, 3.95e-6, 80.0, kelvin(600.0), kelvin(200.0), 2700.0);
  CHECK(near_abs(celsius(shaft.state().temperature_K[0]), 364.0, 1.5));
}

TEST_CASE("a sphere follows its exact series, and every shape closes its energy") {
  // Carslaw & Jaeger 9.4: 1 - z cot z = Bi; (T - T_around)/(T_start - T_around) in the middle is the sum of
  // 4 (sin z - z cos z) / (2 z - sin 2z) exp(-z^2 Fo).
  const auto exact = [](double Bi, double Fo) {
    double sum = 0.0;
    for (int n = 0; n < 40; ++n) {
      const double z = bisect([Bi](double x) { return (1.0 - Bi) * std::sin(x) - x * std::cos(x); },
                              n * std::numbers::pi + 1e-9, (n + 1) * std::numbers::pi - 1e-9);
      sum += 4.0 * (std::sin(z) - z * std::cos(z)) / (2.0 * z - std::sin(2.0 * z)) * std::exp(-z * z * Fo);
    }
    return sum;
  };
  for (const double Bi : {0.5, 5.0, 47.8}) {
    CAPTURE(Bi);
    const Slab ball = dipped(Shape::sphere, 0.01, 1.0, 1e-6, Bi * 100.0, 300.0, 350.0, 20.0);
    CHECK(near_abs((ball.state().temperature_K[0] - 350.0) / -50.0, exact(Bi, 0.2), 3e-3));
  }
  for (const Shape shape : {Shape::plate, Shape::cylinder, Shape::sphere}) {
    Slab body({plain(1.0, unit_alpha_density, 1000.0, growing_widths(0.01, 20, 0.9))}, Face::insulated(),
              Face::film(200.0, 350.0), {}, shape);
    body.set_temperature([](double) { return 300.0; });
    const double before = body.stored_J_m2();
    run_to(body, 60.0);
    CHECK(std::abs(body.stored_J_m2() - before - body.gained_J_m2()) < 1e-9 * body.moved_J_m2());
  }
}

TEST_CASE("perfused tissue comes to rest with the decay length of Pennes' equation") {
  // Closed form: cosh(x / length) with length sqrt(k / w): 8.606 mm for k 0.37 and 4995.25 W/m3K.
  constexpr double blood = 4995.25;
  const double length_m = std::sqrt(0.37 / blood);
  CHECK(near_abs(length_m * 1e3, 8.606, 5e-4));
  SlabLayer layer = plain(0.37, 1100.0, 3400.0, growing_widths(0.012, 60, 1.0));
  layer.perfusion_W_m3K = blood;
  layer.perfusion_K = kelvin(37.0);
  Slab slab({layer}, Face::insulated(), Face::held(kelvin(45.0)), {1e-3, 0.01, 1e4});
  slab.set_temperature([](double) { return kelvin(37.0); });
  run_to(slab, 20000.0);
  for (const std::size_t i : {0U, 20U, 40U}) {
    const double x = (static_cast<double>(i) + 0.5) * 0.012 / 60.0;
    const double exact = 37.0 + 8.0 * std::cosh(x / length_m) / std::cosh(0.012 / length_m);
    CHECK(near_abs(celsius(slab.state().temperature_K[i]), exact, 2e-3));
  }
}

double error_of(std::size_t cells, double fixed_step_s) {
  // A huge tolerance makes `longest_step_s` the step.
  Slab slab = wall(4.0, cells, {1e9, fixed_step_s, fixed_step_s}, 1.0);
  run_to(slab, wall_seconds(0.3));
  return std::abs(middle_share(slab) - wall_share(4.0, 0.3, 0.0));
}

TEST_CASE("halving the cells quarters the error: second order in space") {
  const double coarse = error_of(10, 0.005);
  const double fine = error_of(20, 0.005);
  const double order = std::log2(coarse / fine);
  CAPTURE(coarse);
  CAPTURE(fine);
  // 0.2: the error's next term at 10 cells.
  CHECK(near_abs(order, 2.0, 0.2));
}

TEST_CASE("halving the steps quarters the error: second order in time") {
  // From the first mode of the wall, so that no jump at the start hides the order.
  const double z = wall_root(1.0, 0);
  const auto at = [z](double step_s) {
    Slab slab = wall(1.0, 20, {1e9, step_s, step_s}, 1.0);
    slab.set_temperature([z](double x) { return 350.0 - 50.0 * std::cos(z * x / 0.01); });
    run_to(slab, wall_seconds(0.8));
    return middle_share(slab);
  };
  const double order = std::log2((at(8.0) - at(4.0)) / (at(4.0) - at(2.0)));
  CHECK(near_abs(order, 2.0, 0.15));
}

TEST_CASE("a smaller tolerance costs steps and buys accuracy") {
  double last_error = 1.0;
  int last_steps = 0;
  for (const double tolerance : {0.3, 0.03, 0.003}) {
    Slab slab = wall(4.0, 200, {tolerance, 1e-4, 1e3}, 1.0);
    run_to(slab, wall_seconds(0.3));
    const double error = std::abs(middle_share(slab) - wall_share(4.0, 0.3, 0.0));
    CHECK(error < last_error);
    CHECK(slab.steps_taken() > last_steps);
    // The step's tolerance is 50 K wide; errors of steps do not pile up beyond a few of them.
    CHECK(error < 5.0 * tolerance / 50.0);
    last_error = error;
    last_steps = slab.steps_taken();
  }
}

TEST_CASE("energy closes to a billionth of the heat moved, whatever the layers") {
  CHECK(rc::check([] {
    const auto number = [](double low, double high) {
      return low + (high - low) * *rc::gen::inRange(0, 1000) / 1000.0;
    };
    std::vector<SlabLayer> layers;
    const int count = *rc::gen::inRange(1, 4);
    for (int i = 0; i < count; ++i) {
      SlabLayer layer =
          plain(number(0.1, 2.0), number(800.0, 2000.0), number(900.0, 4000.0),
                growing_widths(number(1e-4, 1e-2), static_cast<std::size_t>(*rc::gen::inRange(2, 12)),
                               number(0.8, 1.3)));
      layer.phases.latent_J_kg = number(0.0, 90e3);
      layer.phases.melting_start_K = 310.0;
      layer.phases.melting_end_K = 310.0 + *rc::gen::inRange(0, 3) * 5.0;
      layer.perfusion_W_m3K = number(0.0, 6000.0);
      layer.perfusion_K = 310.0;
      layer.resistance_before_m2K_W = number(0.0, 0.02);
      layers.push_back(layer);
    }
    Slab slab(layers, Face::film(number(5.0, 1000.0), number(290.0, 350.0)), Face::held(number(290.0, 350.0)),
              {0.05, 1e-3, 50.0});
    const double start_K = number(285.0, 340.0);
    slab.set_temperature([&](double) { return start_K; });
    const double before = slab.stored_J_m2();
    run_to(slab, 200.0);
    RC_ASSERT(std::abs(slab.stored_J_m2() - before - slab.gained_J_m2()) <= 1e-9 * slab.moved_J_m2() + 1e-9);
  }));
}

TEST_CASE("a parabola through a step finds crossings and summits") {
  const std::array<double, 3> t{10.0, 11.0, 14.0};
  const auto parabola = [](double x) { return 5.0 - (x - 12.0) * (x - 12.0); };
  const std::array<double, 3> v{parabola(10.0), parabola(11.0), parabola(14.0)};
  CHECK(near_abs(summit(t, v).time_s, 12.0, 1e-12));
  CHECK(near_abs(summit(t, v).value, 5.0, 1e-12));
  CHECK(near_abs(time_of_rise(t, v, 4.75).value(), 11.5, 1e-12));
  CHECK_FALSE(time_of_rise(t, v, 5.1));
  CHECK(near_abs(time_of_rise(t, v, 0.5).value(), 10.0, 1e-12));  // already there
  const std::array<double, 3> line{0.0, 1.0, 4.0};
  CHECK(near_abs(time_of_rise(t, line, 2.0).value(), 12.0, 1e-12));
  CHECK(near_abs(summit(t, line).time_s, 14.0, 1e-12));
}

TEST_CASE("nonsense layers are refused") {
  CHECK_THROWS_AS(Slab({}, Face::insulated(), Face::insulated()), std::logic_error);
  CHECK_THROWS_AS(Slab({plain(0.0, 1.0, 1.0, {1.0})}, Face::insulated(), Face::insulated()),
                  std::logic_error);
  CHECK_THROWS_AS(Slab({plain(1.0, 1.0, 1.0, {1.0, 0.0})}, Face::insulated(), Face::insulated()),
                  std::logic_error);
}

}  // namespace
}  // namespace warmsheet::heat_tests
