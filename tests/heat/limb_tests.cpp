// SPDX-License-Identifier: MIT
// Air and limb: orderings known from burns in practice, cooling times of another program, and what accuracy
// costs.
#include "heat/limb.h"

#include <cmath>

#include "heat/cases.h"
#include "heat/chain.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

using testing::near_abs;
using testing::near_rel;

LimbRun laid_on(const Case& c, double contact_s) {
  const Bench bench(c);
  AirRun air(bench);
  return run_limb(bench, air.at(contact_s), LimbGoal::skin, longest_run_s);
}

TEST_CASE("dry sheet cools and sets in air in the times of an independent lumped calculation") {
  // Neat polycaprolactone from 65 C in still air at 22 C, upright, 0.1 m, lumped, same kinetics (another
  // program): 50 C, 45 C, 5 %, 50 %, 95 % crystallised. Its convection and radiation are read off a table: 10
  // %.
  struct Row {
    double mm, to_50, to_45, five, fifty, ninety_five;
  };
  for (const Row& row :
       {Row{1.6, 65, 96, 154, 263, 410}, Row{2.0, 81, 120, 185, 318, 497}, Row{2.4, 97, 144, 216, 372, 581},
        Row{3.2, 129, 192, 274, 477, 747}, Row{4.2, 170, 252, 345, 605, 948}}) {
    CAPTURE(row.mm);
    Case c = usual(neat(row.mm * 1e-3));
    c.bath.bath_K = kelvin(65.0);
    c.air = {{kelvin(22.0), kelvin(22.0), 0.5, atmosphere_Pa, 0.0}, 0.01, 0.0, true};
    const Bench bench(c);
    AirRun air(bench);
    CHECK(near_rel(*air.time_of({kelvin(50.0)}, 3600.0), row.to_50, 0.1));
    CHECK(near_rel(*air.time_of({kelvin(45.0)}, 3600.0), row.to_45, 0.1));
    const Setting setting = air.setting_until(3600.0);
    CHECK(near_rel(*setting.closes_s, row.five, 0.1));
    CHECK(near_rel(*setting.holds_s, row.fifty, 0.1));
    CHECK(near_rel(*setting.set_s, row.ninety_five, 0.1));
  }
}

TEST_CASE("an undried sheet cools several times faster until its water is gone") {
  // The same independent calculation with 30 g/m2 on each face: 5 % crystallised at 52 62 72 94 169 s. Drying
  // by analogy of heat and mass transfer from a table: 20 %.
  struct Row {
    double mm, five;
  };
  for (const Row& row : {Row{1.6, 52}, Row{2.0, 62}, Row{2.4, 72}, Row{3.2, 94}}) {
    CAPTURE(row.mm);
    Case c = usual(neat(row.mm * 1e-3));
    c.bath.bath_K = kelvin(65.0);
    c.air = {{kelvin(22.0), kelvin(22.0), 0.5, atmosphere_Pa, 0.0}, 0.01, 0.030, true};
    const Bench bench(c);
    AirRun air(bench);
    CHECK(near_rel(*air.setting_until(3600.0).closes_s, row.five, 0.2));
  }
}

TEST_CASE("all the water evaporates and no more") {
  Case c = usual(neat(3.2e-3));
  c.air.water_kg_m2 = 0.02;
  const Bench bench(c);
  AirRun air(bench);
  double last = 0.02;
  for (const double t : {1.0, 5.0, 20.0, 40.0, 80.0, 200.0}) {
    const SheetState s = air.at(t);
    CHECK(s.outer_water_kg_m2 <= last);
    CHECK(s.outer_water_kg_m2 >= 0.0);
    last = s.outer_water_kg_m2;
  }
  CHECK(last == 0.0);
  // 20 g/m2 takes its heat of vaporisation, 47 kJ/m2 a face, from the sheet and what air brings: the sheet
  // alone, cooled by two such films, would fall by 12 K more than a dry one.
  Case dry = c;
  dry.air.water_kg_m2 = 0.0;
  const Bench dry_bench(dry);
  AirRun dry_air(dry_bench);
  CHECK(dry_air.at(60.0).mean_K - air.at(60.0).mean_K > 5.0);
  CHECK(dry_air.at(60.0).mean_K - air.at(60.0).mean_K < 12.5);
}

TEST_CASE("the air run can be asked for any moment in any order") {
  for (const std::optional<double> towel : {std::optional<double>(), std::optional(100.0)}) {
    CAPTURE(towel.has_value());
    Case c = usual();
    c.air.towel_W_s05_m2K = towel;
    const Bench bench(c);
    AirRun forward(bench);
    AirRun backward(bench);
    std::vector<double> up;
    for (const double t : {0.0, 3.3, 17.0, 60.0, 150.0}) up.push_back(forward.at(t).mean_K);
    std::size_t i = up.size();
    for (const double t : {150.0, 60.0, 17.0, 3.3, 0.0}) {
      const SheetState s = backward.at(t);
      CHECK(near_abs(s.mean_K, up[--i], 2e-3));
      CHECK(near_abs(s.time_s, t, 1e-9));
    }
  }
}

TEST_CASE("sheet and towel meet at the temperature of two bodies laid together") {
  // Two half-spaces: (e1 T1 + e2 T2) / (e1 + e2), Carslaw & Jaeger, Conduction of Heat in Solids
  // (1959), 2.14. Within the first second neither knows where the other ends. 0.15 K: the heat is half a
  // millimetre deep then, in cells of a fifth.
  Case c = usual();
  const Phases& p = c.sheet.phases;
  const double sheet = std::sqrt(c.sheet.conductivity_W_mK * p.density_kg_m3 * p.heat_melt_J_kgK);
  for (const double towel : {50.0, 100.0, 300.0}) {
    CAPTURE(towel);
    c.air.towel_W_s05_m2K = towel;
    const Bench bench(c);
    const double met_K = (sheet * c.bath.bath_K + towel * c.air.room.air_K) / (sheet + towel);
    AirRun air(bench);
    CHECK(near_abs(air.at(1.0).inner_surface_K, met_K, 0.15));
  }
}

TEST_CASE(
    "a towel under it takes more than air at first and less later, and what patting left soaks into it") {
  // Into a half-space kept at one surface temperature go 2 e dT (t / pi)^1/2 (Carslaw & Jaeger 1959, 2.4): as
  // much as through a film of 2 e (pi t)^-1/2, which for e = 100 passes that of a warm face down in air (9 to
  // 10 W/m2K) between one and three minutes. 0.2 K is ten times what the solver may miss.
  Case c = usual();
  c.air.water_kg_m2 = 0.0;
  const Bench in_air(c);
  c.air.towel_W_s05_m2K = 100.0;
  const Bench on_towel(c);
  AirRun air(in_air);
  AirRun towel(on_towel);
  CHECK(towel.at(30.0).mean_K < air.at(30.0).mean_K - 0.2);
  CHECK(towel.at(300.0).mean_K > air.at(300.0).mean_K + 0.2);
  c.air.water_kg_m2 = 0.01;
  const Bench damp(c);
  AirRun damp_air(damp);
  CHECK(damp_air.at(1.0).inner_water_kg_m2 == 0.0);
  CHECK(damp_air.at(1.0).outer_water_kg_m2 > 0.0);
  c.air.undried = true;
  const Bench wet(as_skin_meets_it(c));
  AirRun wet_air(wet);
  CHECK(wet_air.at(60.0).inner_water_kg_m2 == 0.01);
}

TEST_CASE(
    "what burned skin under casts burns it here: folding, insulating, thickness, water, hotter water, no "
    "liner") {
  // Halanski et al., J Bone Joint Surg 89-A (2007) 2369: thicker and pillow-covered casts and splints folded
  // back on themselves reached burn temperatures, cool dip water never did. Hot water under a cover burns
  // first (Log 2017, 2018).
  const double contact_s = 10.0;
  Case plain = usual();
  plain.limb.contact_m2K_W = 0.0;
  const auto with = [&](auto change) {
    Case c = plain;
    change(c);
    return laid_on(c, contact_s);
  };
  const LimbRun base = laid_on(plain, contact_s);
  const LimbRun folded = with([](Case& c) { c.sheet.layers = 2; });
  const LimbRun insulated = with([](Case& c) { c.limb.wrap_m2K_W = 0.2; });
  const LimbRun thick = with([](Case& c) { c.sheet.thickness_m = 4.8e-3; });
  const LimbRun thin = with([](Case& c) { c.sheet.thickness_m = 1.6e-3; });
  const LimbRun hotter = with([](Case& c) { c.bath.bath_K = kelvin(80.0); });
  const LimbRun lined = with([](Case& c) { c.limb.liner_m2K_W = 0.015; });
  for (const LimbRun* worse : {&folded, &insulated, &thick, &hotter}) {
    CHECK(worse->peak_K > base.peak_K);
    CHECK(worse->damage > base.damage);
  }
  CHECK(thin.peak_K < base.peak_K);
  CHECK(lined.peak_K < base.peak_K - 2.0);
  const LimbRun folded_insulated = with([](Case& c) {
    c.sheet.layers = 2;
    c.limb.wrap_m2K_W = 0.2;
  });
  CHECK(folded_insulated.peak_K > std::max(folded.peak_K, insulated.peak_K));
}

TEST_CASE("hot water trapped under the sheet is worse than the sheet") {
  Case wet = usual();
  wet.air.water_kg_m2 = 0.1;
  const Bench bench(wet);
  AirRun air(bench);
  const SheetState trapped = air.at(2.0);
  SheetState wiped = trapped;
  wiped.inner_water_kg_m2 = 0.0;
  const LimbRun with_water = run_limb(bench, trapped, LimbGoal::skin, longest_run_s);
  const LimbRun without = run_limb(bench, wiped, LimbGoal::skin, longest_run_s);
  CHECK(with_water.peak_K > without.peak_K);
  CHECK(with_water.damage > without.damage);
}

TEST_CASE("the wait is the first safe moment: a little sooner is too hot, there it is not") {
  for (const double mm : {2.0, 3.2})
    for (const double limit_C : {41.0, 42.0, 43.0}) {
      CAPTURE(mm);
      CAPTURE(limit_C);
      Case c = usual(elastic(mm * 1e-3));
      c.limb.peak_limit_K = kelvin(limit_C);
      const BeforeContact before = before_contact(c);
      REQUIRE(before.ever_safe);
      CHECK(before.wait_s > 1.0);
      CHECK(laid_on(c, before.wait_s).peak_K <= kelvin(limit_C) + 1e-3);
      CHECK(laid_on(c, before.wait_s).peak_K > kelvin(limit_C) - 0.02);
      CHECK(laid_on(c, 0.97 * before.wait_s - 1.0).peak_K > kelvin(limit_C));
    }
}

TEST_CASE("the search for the wait does not depend on where it starts") {
  const Case c = usual();
  const double from_default = before_contact(c).wait_s;
  for (const double guess_C : {35.0, 50.0, 57.0, 65.0, 80.0}) {
    CAPTURE(guess_C);
    // 0.3 s: a hundredth of a kelvin at the skin.
    CHECK(near_abs(before_contact(c, ContactGuess{kelvin(guess_C)}).wait_s, from_default, 0.3));
  }
}

TEST_CASE("a damage limit counts even where the peak is allowed") {
  Case c = usual(neat(4.8e-3));
  c.limb.peak_limit_K = kelvin(50.0);
  c.limb.damage_limit = 0.01;
  const BeforeContact before = before_contact(c);
  REQUIRE(before.ever_safe);
  const LimbRun there = laid_on(c, before.wait_s);
  CHECK(there.damage <= 0.01005);
  CHECK(there.damage > 0.0095);
  CHECK(there.peak_K < kelvin(50.0));
}

TEST_CASE("lifted when it is ready the sheet is milder to skin than soaked, and shapes for a little less") {
  Case soaked = usual(neat(3.2e-3));
  Case lifted = soaked;
  lifted.bath.lifted_s = run_bath(soaked, 3600.0).ready_s;
  Case long_in = soaked;
  long_in.bath.lifted_s = 1200.0;
  CHECK(laid_on(lifted, 20.0).peak_K < laid_on(soaked, 20.0).peak_K);
  CHECK(near_abs(laid_on(long_in, 20.0).peak_K, laid_on(soaked, 20.0).peak_K, 0.01));
  const double wait_lifted = before_contact(lifted).wait_s;
  const double wait_soaked = before_contact(soaked).wait_s;
  CHECK(wait_lifted < wait_soaked);
  CHECK(after_contact(lifted, wait_lifted).closes_s < after_contact(soaked, wait_soaked).closes_s);
  // Lifted with a hard core it is stiff from the start.
  lifted.bath.lifted_s = 25.0;
  CHECK(after_contact(lifted, 30.0).closes_s == 0.0);
}

TEST_CASE("each layer of a folded sheet was heated on its own") {
  Case folded = usual(neat(2.4e-3));
  folded.sheet.layers = 2;
  folded.bath.lifted_s = run_bath(folded, 3600.0).ready_s;
  const Bench bench(folded);
  AirRun air(bench);
  const SheetState start = air.at(0.0);
  const std::size_t n = start.temperature_K.size();
  // Hot at the faces of both layers, coolest in the middle of each.
  CHECK(start.temperature_K[n / 2] > start.temperature_K[n / 4]);
  CHECK(start.temperature_K[0] > start.temperature_K[n / 4]);
}

TEST_CASE("energy of sheet and skin together closes to a billionth, crystallising included") {
  const Case c = usual(neat(3.2e-3));
  const Bench bench(c);
  std::vector<SlabLayer> layers{sheet_layer(bench)};
  for (const SlabLayer& layer : skin_layers(c.limb.tissue)) layers.push_back(layer);
  Slab slab(layers, Face::losing(bench.outer_on_limb().dry), Face::held(c.limb.tissue.core_K),
            {0.02, 2e-3, 60.0});
  slab.set_crystallinity(0.0);
  slab.set_temperature([&](double x) { return x < 3.2e-3 ? kelvin(55.0) : kelvin(35.0); });
  const double before = slab.stored_J_m2();
  while (slab.time_s() < 1500.0) slab.step(1500.0);
  CHECK(slab.mean_crystallinity(slab.state(), 0, 14) > 0.9);
  CHECK(near_abs(slab.stored_J_m2() - before, slab.gained_J_m2(), 1e-9 * slab.moved_J_m2()));
}

}  // namespace
}  // namespace warmsheet::heat_tests
