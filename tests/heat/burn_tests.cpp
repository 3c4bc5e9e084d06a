// SPDX-License-Identifier: MIT
// The damage integral on its own.
#include "heat/burn.h"

#include <cmath>

#include "heat/cases.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

using testing::near_rel;

/// Seconds that tissue AT this temperature takes to reach `damage`.
double time_held_s(const DamageLaw& law, double basal_K, double damage) {
  return damage / damage_rate_per_s(law, basal_K);
}

TEST_CASE("tissue at one temperature takes the closed form's time, with the pair that is not too lenient") {
  // t = Omega / rate; P 3.1e98, 75 000 K (Henriques 1947). The other pair in circulation, 75 535 K, gives
  // five times longer: 9436 s at 47 C instead of 1773.
  struct Row {
    double celsius, first_degree_s, second_degree_s, lenient_s;
  };
  const DamageLaw law = henriques();
  DamageLaw lenient = law;
  lenient.activation_K = 6.28e5 / 8.314;
  for (const Row& row : {Row{44.0, 8617.0, 16260.0, 87910.0}, Row{47.0, 939.7, 1773.0, 9436.0},
                         Row{50.0, 106.8, 201.5, 1056.0}, Row{55.0, 3.109, 5.867, 29.97},
                         Row{60.0, 0.1007, 0.1900, 0.9471}, Row{70.0, 1.425e-4, 2.688e-4, 1.279e-3}}) {
    CAPTURE(row.celsius);
    const double T = kelvin(row.celsius);
    CHECK(near_rel(time_held_s(law, T, first_degree_damage), row.first_degree_s, 1e-3));
    CHECK(near_rel(time_held_s(law, T, second_degree_damage), row.second_degree_s, 1e-3));
    CHECK(near_rel(time_held_s(lenient, T, second_degree_damage), row.lenient_s, 2e-3));
  }
}

TEST_CASE("below the threshold nothing counts, at it everything does") {
  const DamageLaw law = henriques();
  CHECK(damage_rate_per_s(law, std::nextafter(kelvin(44.0), 0.0)) == 0.0);
  CHECK(damage_rate_per_s(law, kelvin(44.0)) > 0.0);
  CHECK(damage_over(law, kelvin(40.0), kelvin(43.9), 1e9) == 0.0);
}

TEST_CASE("a straight climb through the threshold adds up as fine sums do") {
  const DamageLaw law = henriques();
  const double from = kelvin(43.5);
  const double to = kelvin(45.5);
  double sum = 0.0;
  constexpr int parts = 200000;
  for (int i = 0; i < parts; ++i)
    sum += damage_rate_per_s(law, from + (to - from) * (i + 0.5) / parts) * 30.0 / parts;
  CHECK(near_rel(damage_over(law, from, to, 30.0), sum,
                 1e-3));  // a step's span; the rate is an exponential of 1/T
  CHECK(near_rel(damage_over(law, to, from, 30.0), damage_over(law, from, to, 30.0), 1e-12));
  CHECK(near_rel(damage_over(law, to, to, 30.0), 30.0 * damage_rate_per_s(law, to), 1e-9));
}

}  // namespace
}  // namespace warmsheet::heat_tests
