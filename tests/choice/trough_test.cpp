// SPDX-License-Identifier: MIT
#include "choice/trough.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <numbers>

#include "support/near.h"

using namespace warmsheet::choice;
using warmsheet::testing::near_rel;

namespace {
constexpr double pi = std::numbers::pi;
}

// Sector of a thin annulus of mean radius R, thickness t, half angle a: A = 2 a t R, centroid R sin(a)/a from
// the centre, I = R^3 t (a + sin a cos a - 2 sin^2 a / a) about the axis parallel to the chord. Young and
// Budynas, Roark's Formulas for Stress and Strain, table A.1; from memory. The thin-wall formulas drop terms
// of the order (t/R)^2, here 1e-6 at most; against the small I of a flat arc those terms weigh more, hence
// the looser bound at 20 degrees.
TEST_CASE("a thin arc has the section properties of the handbook's thin annulus sector") {
  struct Row {
    double half_angle_deg;
    double tolerance;
  };
  for (const Row& row :
       {Row{20, 5e-3}, Row{45, 1e-4}, Row{60, 3e-5}, Row{90, 1e-5}, Row{120, 1e-5}, Row{180, 1e-5}}) {
    CAPTURE(row.half_angle_deg);
    const double a = row.half_angle_deg * pi / 180.0;
    const double R = 1.0;
    const double t = 1e-3;
    const ArcSection seen = arc_section(R - t / 2, 2.0 * a * R, t);
    CHECK(near_rel(seen.area_m2, 2.0 * a * t * R, 1e-9));
    const double I = R * R * R * t * (a + std::sin(a) * std::cos(a) - 2.0 * std::sin(a) * std::sin(a) / a);
    CHECK(near_rel(seen.second_moment_m4, I, row.tolerance));
    CHECK(near_rel(seen.to_back_m, R * (1.0 - std::sin(a) / a) + t / 2, 1e-4));
  }
}

// Half of a thin pipe: centroid 2R/pi from the centre, I = (pi/2 - 4/pi) R^3 t = 0.2976 R^3 t. Any statics
// handbook.
TEST_CASE("half a pipe bends as the handbook's half pipe") {
  const double R = 0.028;
  const double t = 2.8e-6;
  const ArcSection seen = arc_section(R - t / 2, pi * R, t);
  CHECK(near_rel(seen.second_moment_m4, 0.2976 * R * R * R * t, 2e-4));  // four printed digits
  CHECK(near_rel(seen.to_edges_m, 2.0 * R / pi, 1e-3));
}

// Tube: I = pi (D^4 - d^4)/64. Read on calcpad.eu, worksheet "Circular pipe", and in any handbook.
TEST_CASE("a closed arc is a tube, however much wider than the girth the strip is") {
  const double inner = 0.025;
  const double t = 3.2e-3;
  const double I = pi / 64.0 * (std::pow(2 * (inner + t), 4) - std::pow(2 * inner, 4));
  const ArcSection exactly = arc_section(inner, 2 * pi * (inner + t / 2), t);
  const ArcSection wider = arc_section(inner, 10 * inner, t);
  CHECK(near_rel(exactly.second_moment_m4, I, 1e-12));
  CHECK(near_rel(wider.second_moment_m4, I, 1e-12));
  CHECK(near_rel(exactly.to_edges_m, inner + t, 1e-9));
  CHECK(near_rel(exactly.to_back_m, inner + t, 1e-9));
}

// Rectangle: I = b t^3 / 12.
TEST_CASE("a strip on a very large limb is flat") {
  const ArcSection seen = arc_section(1e4, 0.08, 3.2e-3);
  CHECK(near_rel(seen.second_moment_m4, 0.08 * std::pow(3.2e-3, 3) / 12.0, 1e-9));
  CHECK(near_rel(seen.to_outermost_m(), 1.6e-3, 1e-9));
  // and just before that, by the ring's integrals: a rise of 1.6e-5 m adds next to nothing
  CHECK(near_rel(arc_section(50.0, 0.08, 3.2e-3).second_moment_m4, 0.08 * std::pow(3.2e-3, 3) / 12.0, 1e-3));
}

TEST_CASE("nonsense lengths are refused") {
  CHECK_THROWS_AS(arc_section(0.0, 0.08, 3e-3), std::logic_error);
  CHECK_THROWS_AS(arc_section(0.03, -0.08, 3e-3), std::logic_error);
  CHECK_THROWS_AS(arc_section(0.03, 0.08, std::nan("")), std::logic_error);
}

// The section summed over ten thousand small cells, by the definition of the second moment: independent of
// the integrals.
TEST_CASE("any arc agrees with its cells summed one by one") {
  CHECK(rc::check([] {
    const double inner = *rc::gen::inRange(8, 120) * 1e-3;
    const double t = *rc::gen::inRange(10, 64) * 1e-4;
    const double half_angle = *rc::gen::inRange(20, 314) * 1e-2;
    constexpr int cells = 100;
    double A = 0.0;
    double S = 0.0;
    double I = 0.0;
    for (int i = 0; i < cells; ++i)
      for (int j = 0; j < cells; ++j) {
        const double r = inner + t * (i + 0.5) / cells;
        const double phi = half_angle * (2.0 * (j + 0.5) / cells - 1.0);
        const double dA = r * (t / cells) * (2.0 * half_angle / cells);
        A += dA;
        S += dA * r * std::cos(phi);
        I += dA * std::pow(r * std::cos(phi), 2);
      }
    const double expected = I - S * S / A;
    const ArcSection seen = arc_section(inner, 2.0 * half_angle * (inner + t / 2), t);
    // Midpoint rule over 100 cells: error of the order (angle/100)^2, larger against the small rest of a flat
    // arc.
    RC_ASSERT(std::abs(seen.second_moment_m4 - expected) <= 0.02 * expected);
    RC_ASSERT(std::abs(seen.area_m2 - A) <= 1e-9 * A);
  }));
}

// Overhanging beam with a load at its end: P a^2 (L + a) / 3EI. Read on mechengcalculations.com (beam 12) and
// becalc.com.
TEST_CASE("one stiffness throughout gives the overhanging beam of the tables") {
  const double P = 20.0;
  const double a = 0.05;
  const double L = 0.15;
  const double EI = 3.9;
  CHECK(near_rel(overhang_deflection_m(P, a, L, EI, EI), P * a * a * (L + a) / (3 * EI), 1e-12));
  // Without a span it is the cantilever of the tables, P a^3 / 3EI.
  CHECK(near_rel(overhang_deflection_m(P, a, 0.0, EI, EI), P * a * a * a / (3 * EI), 1e-12));
}

// Rectangular cantilever: F = sigma b t^2 / 6 a, from M = F a and W = b t^2 / 6.
TEST_CASE("a flat cantilever yields first at the handbook's force") {
  const ArcSection flat = arc_section(1e4, 0.08, 3.2e-3);
  CHECK(near_rel(first_yield_force_N(flat, 0.05, 7e6), 7e6 * 0.08 * 3.2e-3 * 3.2e-3 / (6 * 0.05), 1e-9));
}
