// SPDX-License-Identifier: MIT
// The whole way from a library folder to a result, against the exact solution: a sheet without latent heat in
// a bath is a plane wall with convection at both faces. Source: the series of Cengel & Ghajar, Heat and Mass
// Transfer, 5th ed., 4-2 (theta = sum of 4 sin z / (2 z + sin 2 z) exp(-z^2 Fo) at the mid-plane, z tan z =
// Bi).
#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "support/near.h"
#include "support/program.h"
#include "support/scratch.h"

using warmsheet::testing::near_rel;
using warmsheet::testing::Ran;
using warmsheet::testing::run_program;
using warmsheet::testing::Scratch;

namespace {

constexpr double conductivity = 0.2;               // W/mK
constexpr double heat_capacity = 1100.0 * 2000.0;  // J/m3K
constexpr double start_C = 22.0;
constexpr double bath_C = 70.0;
constexpr double melting_end_C = 60.0;

/// Root of z tan z = Bi in its n-th branch, by bisection.
double eigenvalue(int n, double biot) {
  double low = n * std::numbers::pi;
  double high = low + std::numbers::pi / 2.0;
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    (middle * std::tan(middle) < biot ? low : high) = middle;
  }
  return low;
}

double mid_plane_theta(double fourier, double biot) {
  constexpr int terms = 40;
  double theta = 0.0;
  for (int n = 0; n < terms; ++n) {
    const double z = eigenvalue(n, biot);
    theta += 4.0 * std::sin(z) / (2.0 * z + std::sin(2.0 * z)) * std::exp(-z * z * fourier);
  }
  return theta;
}

double exact_ready_s(double thickness_m, double film_W_m2K) {
  const double half_m = 0.5 * thickness_m;
  const double biot = film_W_m2K * half_m / conductivity;
  const double wanted = (melting_end_C - bath_C) / (start_C - bath_C);
  double low = 0.0;
  double high = 10.0;  // Fourier numbers
  for (int i = 0; i < 100; ++i) {
    const double middle = 0.5 * (low + high);
    (mid_plane_theta(middle, biot) > wanted ? low : high) = middle;
  }
  return low * half_m * half_m * heat_capacity / conductivity;
}

double number_after(const std::string& text, const std::string& key) {
  const std::size_t at = text.find("\"" + key + "\"");
  REQUIRE(at != std::string::npos);
  const std::size_t value = text.find("\"value\": ", at) + 9;
  return std::stod(text.substr(value));
}

}  // namespace

TEST_CASE("a sheet without latent heat is ready when the exact series says so") {
  const Scratch library;
  static_cast<void>(
      library.file("sheets/plain.toml",
                   "id = \"elastic-clear\"\n[thermal]\nbasis = \"demo\"\ndensity = \"1100 kg/m3\"\n"
                   "conductivity = \"0.2 W/mK\"\nspecific_heat_solid = \"2000 J/kgK\"\n"
                   "specific_heat_melt = \"2000 J/kgK\"\nlatent_heat = \"0 J/g\"\n"
                   "melting_start = \"50 C\"\nmelting_end = \"60 C\"\n"));
  for (const char* samples : {"0", "32"}) {
    for (const double thickness_mm : {1.6, 3.2, 4.8}) {
      for (const double film : {300.0, 1000.0}) {
        CAPTURE(thickness_mm);
        CAPTURE(film);
        const Ran ran =
            run_program({"timing", "--library", library.path(), "--sheet", "elastic-clear", "--thickness",
                         std::to_string(thickness_mm) + " mm", "--film", std::to_string(film) + " W/m2K",
                         "--bath", "70 C", "--start", "22 C", "--samples", samples, "--json"});
        // Far inside the 0.5 % asked for; the scheme is kept to about 0.1 %.
        CHECK(near_rel(number_after(ran.out, "ready"), exact_ready_s(thickness_mm * 1e-3, film), 0.002));
      }
    }
  }
}
