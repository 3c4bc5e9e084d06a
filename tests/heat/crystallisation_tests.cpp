// SPDX-License-Identifier: MIT
// Crystallisation against the closed Avrami form and the usual calorimetry of polycaprolactone.
#include "heat/crystallisation.h"

#include <cmath>
#include <numbers>
#include <optional>

#include "heat/cases.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

using testing::near_abs;
using testing::near_rel;

const KineticConstants neat_kinetics = neat(1e-3).kinetics;

TEST_CASE("the half-time is the given one at 42 C and none outside the two limits") {
  CHECK(near_rel(half_time_s(neat_kinetics, kelvin(42.0)), 180.0, 1e-12));
  CHECK(std::isinf(half_time_s(neat_kinetics, 342.2)));
  CHECK(std::isinf(half_time_s(neat_kinetics, 400.0)));
  CHECK(std::isinf(half_time_s(neat_kinetics, 183.15)));
}

TEST_CASE("half-times fall as the melt is cooled, as the isothermal calorimetry says") {
  // Calorimetry of polycaprolactone, from memory: about 90 s at 40 C, 180 at 42, 6 to 7 min at 44, 15 to 20
  // min at 46, an hour at 48; the constants were fitted to that. The seconds here were worked out by another
  // program: printed digits.
  struct Row {
    double celsius, seconds;
  };
  for (const Row& row : {Row{30.0, 11.7}, Row{34.0, 22.0}, Row{36.0, 33.0}, Row{38.0, 53.0}, Row{40.0, 93.0},
                         Row{42.0, 180.0}, Row{44.0, 394.0}, Row{46.0, 1005.0}, Row{48.0, 3130.0}}) {
    CAPTURE(row.celsius);
    CHECK(near_rel(half_time_s(neat_kinetics, kelvin(row.celsius)), row.seconds, 0.02));
  }
}

TEST_CASE("at one temperature Nakamura's equation is Avrami's") {
  const Kinetics kinetics(neat_kinetics);
  const double t_half = half_time_s(neat_kinetics, kelvin(40.0));
  double progress = 0.0;
  const double step_s = t_half / 1000.0;
  for (int i = 1; i <= 3000; ++i) {
    progress += step_s * kinetics.rate(kelvin(40.0)).per_s;
    if (i % 500 != 0) continue;
    const double exact = 1.0 - std::exp(-std::numbers::ln2 * std::pow(i / 1000.0, 3.0));
    CAPTURE(i);
    CHECK(near_abs(kinetics.share(progress).value, exact, 2e-3));
  }
}

TEST_CASE("the tables keep the accuracy they promise") {
  const Kinetics kinetics(neat_kinetics);
  for (double C = 15.0; C < 50.0; C += 0.0617) {
    CAPTURE(C);
    const double exact = std::pow(std::numbers::ln2, 1.0 / 3.0) / half_time_s(neat_kinetics, kelvin(C));
    CHECK(near_rel(kinetics.rate(kelvin(C)).per_s, exact, 1e-3));
  }
  for (double Y = 0.0; Y < 2.0; Y += 0.00317) {
    CAPTURE(Y);
    CHECK(near_abs(kinetics.share(Y).value, 1.0 - std::exp(-Y * Y * Y), 1e-5));
    if (Y > 0.05) CHECK(near_abs(kinetics.progress(kinetics.share(Y).value), Y, 2e-3));
  }
}

struct Scan {
  double rate_K_min, onset, peak, end;
};

/// Scanning calorimetry: cooled at a constant rate, heat release follows dX/dt.
Scan scan(double rate_K_min) {
  const Kinetics kinetics(neat_kinetics);
  Scan found{rate_K_min, 0.0, 0.0, 0.0};
  const double rate_K_s = rate_K_min / 60.0;
  const double step_K = 0.002;
  double progress = 0.0;
  double last = 0.0;
  double fastest = 0.0;
  for (double T = kelvin(65.0); T > kelvin(5.0); T -= step_K) {
    progress += step_K / rate_K_s * kinetics.rate(T).per_s;
    const double share = kinetics.share(progress).value;
    if (share - last > fastest) {
      fastest = share - last;
      found.peak = celsius(T);
    }
    if (last < 0.02 && share >= 0.02) found.onset = celsius(T);
    if (last < 0.98 && share >= 0.98) found.end = celsius(T);
    last = share;
  }
  return found;
}

TEST_CASE("onset and peak fall with the cooling rate as calorimetry of polycaprolactone shows") {
  // Band from memory of the literature (40-80 kg/mol): peak 40-42 C at 1 K/min, 36-37 at 5, 32-35 at 10,
  // 29-31 at 20; about 3 C lower for every doubling (a quarter more or less). Onsets at 10 K/min 38-40 C.
  struct Band {
    double rate, low, high;
  };
  for (const Band& band :
       {Band{1.0, 40.0, 42.0}, Band{5.0, 35.5, 37.5}, Band{10.0, 32.0, 35.0}, Band{20.0, 29.0, 31.5}}) {
    CAPTURE(band.rate);
    const Scan s = scan(band.rate);
    CHECK(s.peak > band.low);
    CHECK(s.peak < band.high);
    CHECK(s.onset > s.peak);
    CHECK(s.end < s.peak);
  }
  CHECK(scan(10.0).onset > 38.0);
  CHECK(scan(10.0).onset < 40.0);
  for (const double rate : {2.5, 5.0, 10.0}) {
    CAPTURE(rate);
    CHECK(near_abs(scan(rate).peak - scan(2.0 * rate).peak, 3.0, 0.8));
  }
}

TEST_CASE("five cooling rates keep the onset, peak and end worked out apart from this code") {
  // Nakamura integrated by another program (explicit, no tables): onset (2 %), peak, end (98 %). Half a
  // printed digit is 0.05 C; its coarse steps find the flat onset early by up to 0.15, the steep end by 0.04.
  for (const Scan& row :
       {Scan{1.0, 44.0, 41.2, 39.9}, Scan{2.0, 42.6, 39.3, 37.9}, Scan{5.0, 40.4, 36.5, 34.8},
        Scan{10.0, 38.5, 34.0, 31.9}, Scan{20.0, 36.2, 31.0, 28.4}}) {
    CAPTURE(row.rate_K_min);
    const Scan s = scan(row.rate_K_min);
    CHECK(near_abs(s.onset, row.onset, 0.2));
    CHECK(near_abs(s.peak, row.peak, 0.15));
    CHECK(near_abs(s.end, row.end, 0.1));
  }
}

TEST_CASE("a slower sheet is slower everywhere, and seeds only shorten the start") {
  KineticConstants slow = neat_kinetics;
  slow.half_time_42_s = 360.0;
  for (const double C : {20.0, 35.0, 45.0})
    CHECK(near_rel(half_time_s(slow, kelvin(C)), 2.0 * half_time_s(neat_kinetics, kelvin(C)), 1e-12));
  const Kinetics kinetics(neat_kinetics);
  CHECK(near_rel(kinetics.seed_progress(), 0.01, 1e-6));  // (1e-6)^(1/3)
  CHECK(near_rel(kinetics.progress(0.0), kinetics.seed_progress(), 1e-12));
}

}  // namespace
}  // namespace warmsheet::heat_tests
