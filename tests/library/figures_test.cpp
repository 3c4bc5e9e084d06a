// SPDX-License-Identifier: MIT
// The shipped figures against what stands outside this project.
#include <doctest/doctest.h>
#include <fmt/format.h>
#include <rapidcheck.h>

#include <cmath>
#include <numbers>

#include "library_support.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::testing;

namespace {

double open_area(double d_in, double p_in, const std::string& lattice) {
  const auto library = load_with(
      Files{{"perforations.toml",
             fmt::format("[[perforation]]\nid = \"case\"\nname = \"case\"\nbasis = \"bench\"\nlattice = "
                         "\"{}\"\ndiameter = \"{} in\"\npitch = \"{} in\"\n",
                         lattice, d_in, p_in)}});
  return library.perforation("case").holes->open_area.si();
}

double mixed_density(double share, double a, double b) {
  return 1.0 / ((1.0 - share) / a + share / b);
}
double mixed_by_weight(double share, double a, double b) {
  return (1.0 - share) * a + share * b;
}

/// Maxwell's conductivity of spheres (volume share v) in a matrix.
double maxwell(double matrix, double filler, double v) {
  return matrix * (filler + 2.0 * matrix + 2.0 * v * (filler - matrix)) /
         (filler + 2.0 * matrix - v * (filler - matrix));
}

// Remembered values of calcium carbonate (no source re-read).
constexpr double mineral_density = 2710.0;
constexpr double mineral_heat = 840.0;
constexpr double mineral_conductivity = 2.7;

}  // namespace

TEST_CASE("open area of staggered round holes: worked case of a perforator's handbook") {
  // Industrial Perforators Association, guide to acoustic uses (iperf.org, ac18): holes 0.066 in at 0.125 in
  // staggered give about 25 to 26 %; the handbook rounds the cell to 0.87 b^2.
  CHECK(open_area(0.066, 0.125, "triangular") > 0.25);
  CHECK(open_area(0.066, 0.125, "triangular") < 0.26);
}

TEST_CASE("open area is the exact share of the cell in both lattices") {
  // Trade formula: 90.69 (D/C)^2 and 78.54 (D/C)^2 per cent, printed to four digits in perforators' tables.
  CHECK(near_rel(open_area(0.0625, 0.125, "triangular"), 0.9069 * 0.25, 1e-4));
  CHECK(near_rel(open_area(0.0625, 0.125, "square"), 0.7854 * 0.25, 1e-4));
  CHECK(rc::check([] {
    const double pitch_in = *rc::gen::inRange(20, 75) / 100.0;
    const double ratio = *rc::gen::inRange(10, 99) / 100.0;
    const double exact = std::numbers::pi / std::sqrt(12.0) * ratio * ratio;
    RC_ASSERT(std::abs(open_area(pitch_in * ratio, pitch_in, "triangular") - exact) < 1e-9);
  }));
}

TEST_CASE("the range of the open area spans that of its hole and pitch") {
  const Figure area = built_in().perforation("mini").holes->open_area;
  CHECK(near_rel(area.low_si(), 0.9069 * (1.9 / 6.2) * (1.9 / 6.2), 1e-4));
  CHECK(near_rel(area.high_si(), 0.9069 * (2.1 / 5.8) * (2.1 / 5.8), 1e-4));
}

TEST_CASE("plain polycaprolactone is as its sources state it") {
  const library::Thermal& thermal = built_in().sheet("draping-white").thermal;
  // Encyclopaedia article "Polycaprolactone": density 1.145 g/cm3.
  CHECK(thermal.density.si() == 1145.0);
  // doi:10.5281/zenodo.17293641, second heating: 77.5 J/g (local base line) and 86.2 J/g (flank base line).
  CHECK(near_rel(thermal.latent_heat.si(), 77.5e3, 1e-12));
  CHECK(near_rel(thermal.latent_heat.high_si(), 86.2e3, 1e-12));
  // 40 % of the 139.5 J/g of a perfect crystal (Crescenzi and others 1972, as quoted beside that data set).
  CHECK(near_rel(thermal.latent_heat.low_si(), 0.40 * 139.5e3, 1e-3));
  // Its peak at 56.41 C and the usual 60 C lie between start and end of melting.
  for (const double peak_C : {56.41, 60.0}) {
    CHECK(thermal.melting_start.si() < peak_C + 273.15);
    CHECK(thermal.melting_end.si() > peak_C + 273.15);
  }
}

TEST_CASE("the heavily filled sheet is as measured by Miner and others 2006") {
  // J Endod 32:683, abstract: 1.15 J/gK, 25.20 J/g, melting 60.57 C.
  const library::Thermal& thermal = built_in().sheet("filled-fast").thermal;
  CHECK(thermal.specific_heat_solid.si() == 1150.0);
  CHECK(near_rel(thermal.latent_heat.si(), 25.2e3, 1e-12));
  CHECK(thermal.melting_end.si() > 60.57 + 273.15);
  CHECK(thermal.melting_start.si() < 60.57 + 273.15);
}

TEST_CASE("filled sheets follow the rules of mixing from the plain polymer") {
  struct Row {
    const char* sheet;
    double mineral_share;
    double tolerance;  // the entries are rounded to two or three digits
  };
  for (const Row& row : {Row{"filled-steady", 0.40, 0.01}, Row{"filled-fast", 0.67, 0.02}}) {
    CAPTURE(row.sheet);
    const library::Thermal& thermal = built_in().sheet(row.sheet).thermal;
    const double density = mixed_density(row.mineral_share, 1145.0, mineral_density);
    const double volume_share = row.mineral_share * density / mineral_density;
    CHECK(near_rel(thermal.density.si(), density, row.tolerance));
    CHECK(near_rel(thermal.conductivity.si(), maxwell(0.20, mineral_conductivity, volume_share),
                   row.tolerance));
    CHECK(near_rel(thermal.specific_heat_melt.si(), mixed_by_weight(row.mineral_share, 2050.0, mineral_heat),
                   row.tolerance));
  }
  const library::Thermal& steady = built_in().sheet("filled-steady").thermal;
  CHECK(near_rel(steady.specific_heat_solid.si(), mixed_by_weight(0.40, 1750.0, mineral_heat), 0.01));
  CHECK(near_rel(steady.latent_heat.si(), 0.60 * 75e3, 1e-12));
}

TEST_CASE("rubbery sheets melt over the two transitions of gutta-percha") {
  // Schilder, Goodman and Aldrich 1974 (as summarised): 42-49 C and 53-59 C.
  for (const char* id : {"rubbery-control", "rubbery-stout"}) {
    const library::Thermal& thermal = built_in().sheet(id).thermal;
    CHECK(near_abs(thermal.melting_start.value(), 42.0, 1e-9));
    CHECK(near_abs(thermal.melting_end.value(), 59.0, 1e-9));
    CHECK(thermal.melting_start.origin()->second_hand);
  }
}

TEST_CASE("the elastic sheet is as stiff and strong as measured mask sheet") {
  // doi:10.3390/polym18020287, abstract: 0.25 to 0.30 GPa, yield about 7 MPa.
  const library::Mechanical& mechanical = built_in().sheet("elastic-clear").mechanical;
  CHECK(mechanical.modulus_23.si() >= 0.25e9);
  CHECK(mechanical.modulus_23.high_si() <= 0.30e9);
  CHECK(near_rel(mechanical.yield_stress.si(), 7e6, 1e-12));
}

TEST_CASE("the trade's order of families holds") {
  // Common practice, no source: elastic sheet remembers most, draping sheet drapes most, rubbery sheet
  // resists most, filled sheet is stiffer than plain; elastic sheet clears when ready and bonds to itself.
  const auto handling = [](const char* id) { return built_in().sheet(id).handling; };
  CHECK(handling("elastic-clear").memory.grade > handling("blended-even").memory.grade);
  CHECK(handling("blended-even").memory.grade > handling("draping-white").memory.grade);
  CHECK(handling("draping-white").drape.grade > handling("elastic-clear").drape.grade);
  CHECK(handling("elastic-clear").drape.grade > handling("rubbery-control").drape.grade);
  CHECK(handling("rubbery-control").resistance_to_stretch.grade >
        handling("elastic-clear").resistance_to_stretch.grade);
  CHECK(handling("elastic-clear").ready_sign == "turns from opaque to clear");
  CHECK(handling("elastic-clear").bonding.grade >= library::Grade::high);
  CHECK(built_in().sheet("filled-steady").mechanical.modulus_23.si() >
        built_in().sheet("draping-white").mechanical.modulus_23.si());
  CHECK(built_in().sheet("elastic-slow").thermal.half_time_42.si() >
        built_in().sheet("filled-fast").thermal.half_time_42.si());
}

TEST_CASE("the usual bath melts every sheet even at the cool end of its range") {
  for (const auto& [id, sheet] : built_in().sheets) {
    const std::string name = id;
    CAPTURE(name);
    CHECK(sheet.practice.bath.low_si() >= sheet.thermal.melting_end.si());
  }
}

TEST_CASE("skin layers are those of Jiang and others 2002, and within the ranges of Ye and De 2017") {
  struct Row {
    double thickness_mm, conductivity, density, heat, perfusion;
  };
  // Jiang SC and others, Burns 28:713 (read second hand).
  const Row jiang[] = {
      {0.08, 0.24, 1200, 3590, 0.0}, {2.0, 0.45, 1200, 3300, 0.00125}, {10.0, 0.19, 1000, 2500, 0.00125}};
  const auto& layers = built_in().skin("adult").layers;
  REQUIRE(layers.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    CAPTURE(layers[i].name);
    CHECK(near_rel(layers[i].thickness.si(), jiang[i].thickness_mm * 1e-3, 1e-12));
    CHECK(layers[i].conductivity.si() == jiang[i].conductivity);
    CHECK(layers[i].density.si() == jiang[i].density);
    CHECK(layers[i].specific_heat.si() == jiang[i].heat);
    CHECK(layers[i].perfusion.si() == jiang[i].perfusion);
    // Burns 43:909, PMC5459687: k rho c of whole skin 9.6e5 to 3.2e6 W2 s/m4K2; fat lies below skin.
    const double inertia = jiang[i].conductivity * jiang[i].density * jiang[i].heat;
    if (layers[i].name != "fat under the skin") CHECK((inertia > 9.6e5 && inertia < 3.2e6));
  }
  // Cengel and Ghajar, Heat and Mass Transfer, chapter 4: effusivity of human flesh 1.1 kJ/m2K s^0.5 (two
  // digits; epidermis is the drier end of flesh).
  const double effusivity = std::sqrt(0.24 * 1200 * 3590);
  CHECK(near_rel(effusivity, 1100.0, 0.10));
}

TEST_CASE("the damage constants are the pair that reproduces burns, not the lenient variant") {
  const library::Tissue& tissue = built_in().tissue;
  CHECK(tissue.damage_factor.si() == 3.1e98);
  CHECK(tissue.damage_activation.si() == 75000.0);
  // Moritz and Henriques 1947 (second hand): 44 C destroys the epidermis in about 6 h. Held there from the
  // start the pair gives 4.5 h, the variant with 75 535 K more than a day.
  const auto hours_to_1 = [](double factor, double activation, double C) {
    return 1.0 / (factor * std::exp(-activation / (C + 273.15))) / 3600.0;
  };
  const double here = hours_to_1(tissue.damage_factor.si(), tissue.damage_activation.si(), 44.0);
  CHECK(here < 6.0);
  CHECK(here > 3.0);
  CHECK(hours_to_1(3.1e98, 75535.0, 44.0) > 24.0);
  CHECK(tissue.damage_threshold.value() <= 44.0);
}

TEST_CASE("limits for touch fall from healthy to thin to reduced skin") {
  const auto limit = [](const char* id) { return built_in().skin(id).peak_limit.value(); };
  // ISO 13732-1: 43 C for prolonged contact; Defrin 2006: contact pain at 42 C; IEC 60601-1, second edition:
  // 41 C (all second hand).
  CHECK(near_abs(limit("adult"), 43.0, 1e-9));
  CHECK(near_abs(limit("thin"), 42.0, 1e-9));
  CHECK(near_abs(limit("reduced"), 41.0, 1e-9));
  for (const auto& [id, kind] : built_in().skins) {
    const std::string name = id;
    CAPTURE(name);
    // First degree is 0.53 (Physics of Thermal Therapy, p. 49).
    CHECK(near_rel(kind.damage_limit.si(), 0.53 / 10.0, 1e-12));
  }
}

TEST_CASE("thin skin is thinner than the forearm's in every layer, and its epidermis by a fifth") {
  // Stamatas 2010, abstract: the infant's epidermis is 20 % thinner.
  const auto& adult = built_in().skin("forearm").layers;
  const auto& thin = built_in().skin("thin").layers;
  CHECK(near_rel(thin[0].thickness.si(), 0.8 * adult[0].thickness.si(), 1e-9));
  for (std::size_t i = 0; i < adult.size(); ++i) CHECK(thin[i].thickness.si() < adult[i].thickness.si());
}

TEST_CASE("the crystallisation constants give the remembered half-times of polycaprolactone") {
  // From memory: about 1.5 min at 40 C, 3 at 42, 6 to 7 at 44, 15 to 20 at 46, an hour at 48. Hoffman and
  // Lauritzen.
  const library::Crystallisation& c = built_in().crystallisation;
  const auto growth = [&](double T) {
    constexpr double gas_constant = 8.314462618;  // J/mol K, exact product of SI constants
    const double f = 2.0 * T / (c.equilibrium_melting.si() + T);
    return std::exp(-c.activation_energy.si() / (gas_constant * (T - c.glass_limit.si()))) *
           std::exp(-c.nucleation_constant.si() / (T * (c.equilibrium_melting.si() - T) * f));
  };
  struct Row {
    double C, low_s, high_s;
  };
  for (const Row& row : {Row{40, 75, 110}, Row{44, 360, 420}, Row{46, 900, 1200}, Row{48, 2700, 4200}}) {
    CAPTURE(row.C);
    const double half_time = 180.0 * growth(42.0 + 273.15) / growth(row.C + 273.15);
    CHECK((half_time > row.low_s && half_time < row.high_s));
  }
}

TEST_CASE("bath film coefficients lie within the printed bands of convection in liquids") {
  // Incropera (from memory) and Cengel's notes: free convection in liquids 50 to 1000, forced 50 to 20 000
  // W/m2K.
  CHECK(built_in().bath_state("still").film.high_si() <= 1000.0);
  CHECK(built_in().bath_state("still").film.low_si() >= 50.0);
  CHECK(built_in().bath_state("floating").film.high_si() <= 1000.0);
  CHECK(built_in().bath_state("stirred").film.high_si() <= 20000.0);
  CHECK(built_in().bath_state("still").film.si() < built_in().bath_state("floating").film.si());
  CHECK(built_in().bath_state("floating").film.si() < built_in().bath_state("stirred").film.si());
}

TEST_CASE("the steps add up to a published time for a whole orthosis") {
  // doi:10.1177/17589983241287069: nine low-temperature orthoses took 14 min 14 s on average, bath included.
  const library::BenchTimes& t = built_in().bench_times;
  const double published_s = 14.0 * 60.0 + 14.0;
  const double low = t.cut.low_si() + t.form.low_si() + t.trim.low_si() + t.strap.low_si();
  const double high = t.cut.high_si() + t.form.high_si() + t.trim.high_si() + t.strap.high_si();
  const double usual = t.cut.si() + t.form.si() + t.trim.si() + t.strap.si();
  CHECK(low < published_s);
  CHECK(high > published_s);
  // The bath takes one to two minutes of it.
  CHECK(usual < published_s - 60.0);
  CHECK(usual > 0.75 * published_s);
}

TEST_CASE("bench figures read in a therapist's article stand as printed") {
  // 160 F, one minute in the bath, about three minutes to shape.
  const library::Practice& practice = built_in().sheet("blended-even").practice;
  CHECK(near_rel(practice.bath.si(), (160.0 - 32.0) * 5.0 / 9.0 + 273.15, 1e-12));
  const library::PracticeTimes& row = practice.by_thickness.back();
  CHECK(row.heating.figure().si() == 60.0);
  CHECK(row.working.figure().si() == 180.0);
}
