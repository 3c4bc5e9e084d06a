// SPDX-License-Identifier: MIT
#include "choice/modulus.h"

#include <doctest/doctest.h>

#include "support/near.h"

using namespace warmsheet::choice;
using warmsheet::testing::near_rel;

TEST_CASE("stiffness at wear temperature passes through the two stated ones") {
  CHECK(near_rel(modulus_at_Pa(350e6, 250e6, 296.15), 350e6, 1e-12));
  CHECK(near_rel(modulus_at_Pa(350e6, 250e6, 310.15), 250e6, 1e-12));
}

// Polycaprolactone is remembered at about 350, 250 and 150 MPa at 23, 37 and 45 C (from memory). The straight
// line in the logarithm through the first two, carried on to 45 C, must not lie below what is remembered by
// more than a tenth and errs above it only where no orthosis should be worn.
TEST_CASE("beyond 37 C the line does not fall faster than the material") {
  const double at_45 = modulus_at_Pa(350e6, 250e6, 318.15);
  CHECK(at_45 > 150e6);
  CHECK(at_45 < 250e6);
}

// Lame's thin ring: an interference u gives the hoop strain u/R and the pressure E t u / R^2. Any mechanics
// text.
TEST_CASE("on a hard limb the shrinking sheet presses as a shrink fit does") {
  const double E = 250e6;
  const double t = 2e-3;
  const double R = 0.027;
  const double shrink = 0.01;
  CHECK(near_rel(shrink_pressure_Pa(shrink, E, t, R, 1e15, 1e-2), E * t / (R * R) * shrink * R, 1e-6));
}

TEST_CASE("on soft tissue the pressure is that of the tissue pressed in by the shrinkage") {
  const double R = 0.027;
  const double seen = shrink_pressure_Pa(0.01, 250e6, 2e-3, R, 30e3, 10e-3);
  CHECK(near_rel(seen, 30e3 / 10e-3 * 0.01 * R, 0.01));
  CHECK(seen < 30e3 / 10e-3 * 0.01 * R);
}
