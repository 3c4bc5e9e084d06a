// SPDX-License-Identifier: MIT
#include "choice/plate.h"

#include <doctest/doctest.h>

#include "support/near.h"

using namespace warmsheet::choice;
using warmsheet::testing::near_rel;

// A shallow parabolic arc of width b and rise s has I = (4/45) b t s^2 about its centroid: y = 4 s x^2/b^2,
// so the mean of (y - s/3)^2 over the width is s^2/5 - s^2/9. Elementary calculus; the circle differs by the
// order (s/b)^2.
TEST_CASE("a shallow arch of the palm is the parabola's second moment plus the flat strip's own") {
  const double b = 0.08;
  const double s = 0.004;
  const double t = 1.6e-3;
  const double expected = 4.0 / 45.0 * b * t * s * s + b * t * t * t / 12.0;
  CHECK(near_rel(arched_section(b, s, t).second_moment_m4, expected, 0.03));
  CHECK(near_rel(arched_section(b, 0.0, t).second_moment_m4, b * t * t * t / 12.0, 1e-4));
}

TEST_CASE("the palmar piece moulded to the arch is many times stiffer than the flat plate") {
  // A common observation at the bench: a moulded palm holds, a flat one flaps. Common practice, no source.
  CHECK(arched_section(0.075, 0.012, 3.2e-3).second_moment_m4 >
        5.0 * arched_section(0.075, 0.0, 3.2e-3).second_moment_m4);
}
