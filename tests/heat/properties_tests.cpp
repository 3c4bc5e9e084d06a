// SPDX-License-Identifier: MIT
// What must never happen, over random sheets, baths and limbs.
#include <rapidcheck.h>

#include "heat/cases.h"
#include "heat/chain.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

double number(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 10001) / 1e4;
}

Case any_case() {
  Case c = usual(neat(number(1.2e-3, 5e-3)));
  c.sheet.phases.latent_J_kg = number(0.0, 90e3);
  c.sheet.phases.heat_solid_J_kgK = number(1200.0, 2000.0);
  c.sheet.phases.heat_melt_J_kgK = number(1500.0, 2200.0);
  c.sheet.phases.density_kg_m3 = number(950.0, 1500.0);
  c.sheet.conductivity_W_mK = number(0.14, 0.35);
  c.sheet.phases.melting_start_K = kelvin(number(45.0, 59.0));
  c.sheet.kinetics.half_time_42_s = number(80.0, 400.0);
  c.bath.bath_K = kelvin(number(64.0, 82.0));
  c.bath.film_W_m2K = number(250.0, 1200.0);
  c.air.room.air_K = c.air.room.walls_K = kelvin(number(16.0, 30.0));
  c.bath.start_K = c.air.room.air_K;
  c.air.water_kg_m2 = number(0.0, 0.03);
  c.limb.contact_m2K_W = number(0.0, 2e-3);
  if (number(0.0, 1.0) < 0.5) c.air.towel_W_s05_m2K = number(50.0, 200.0);
  return c;
}

// A step or grid error must not read as a broken order: two thousandths of a time, two hundredths of a
// kelvin.
constexpr double time_slack = 2e-3;
constexpr double kelvin_slack = 0.02;

double ready_s(const Case& c) {
  return run_bath(c, longest_run_s).ready_s.value_or(longest_run_s);
}

LimbRun laid_on(const Case& c, double contact_s) {
  const Bench bench(c);
  AirRun air(bench);
  return run_limb(bench, air.at(contact_s), LimbGoal::skin, longest_run_s);
}

TEST_CASE("a hotter bath, a better film and a warmer start never lengthen the time in the bath") {
  CHECK(rc::check([] {
    const Case c = any_case();
    Case hotter = c;
    hotter.bath.bath_K += number(0.1, 10.0);
    Case wetter = c;
    wetter.bath.film_W_m2K *= number(1.0, 3.0);
    Case warmer = c;
    warmer.bath.start_K += number(0.0, 10.0);
    for (const Case& quicker : {hotter, wetter, warmer})
      RC_ASSERT(ready_s(quicker) <= ready_s(c) * (1.0 + time_slack));
  }));
}

TEST_CASE("more thickness, latent heat or density never shortens it, and half soft comes before ready") {
  CHECK(rc::check([] {
    const Case c = any_case();
    Case thicker = c;
    thicker.sheet.thickness_m *= number(1.0, 2.0);
    Case richer = c;
    richer.sheet.phases.latent_J_kg += number(0.0, 30e3);
    Case denser = c;
    denser.sheet.phases.density_kg_m3 *= number(1.0, 1.3);
    for (const Case& slower : {thicker, richer, denser})
      RC_ASSERT(ready_s(slower) >= ready_s(c) * (1.0 - time_slack));
    const BathRun run = run_bath(c, longest_run_s);
    RC_ASSERT(run.half_soft_s.value() < run.ready_s.value());
  }));
}

TEST_CASE("waiting longer never makes the skin hotter") {
  CHECK(rc::check([] {
    const Case c = any_case();
    const double sooner_s = number(0.0, 200.0);
    const double later_s = sooner_s + number(0.0, 100.0);
    // Under a sheet that has gone cold the skin comes to its own warmth, which is nobody's peak.
    const double own_K = c.limb.tissue.core_K;
    RC_ASSERT(laid_on(c, later_s).peak_K <= std::max(laid_on(c, sooner_s).peak_K, own_K) + kelvin_slack);
  }));
}

TEST_CASE("a liner never makes the skin hotter, a fold, a wrap or a hotter bath never cooler") {
  CHECK(rc::check([] {
    const Case c = any_case();
    const double contact_s = number(0.0, 60.0);
    const double peak_K = laid_on(c, contact_s).peak_K;
    Case lined = c;
    lined.limb.liner_m2K_W = number(0.0, 0.05);
    // Over a sheet that has gone cold a liner keeps skin at its own warmth.
    RC_ASSERT(laid_on(lined, contact_s).peak_K <= std::max(peak_K, c.limb.tissue.core_K) + kelvin_slack);
    Case folded = c;
    folded.sheet.layers = 2;
    Case wrapped = c;
    wrapped.limb.wrap_m2K_W = number(0.0, 0.3);
    Case hotter = c;
    hotter.bath.bath_K += number(0.0, 10.0);
    for (const Case& worse : {folded, wrapped, hotter})
      RC_ASSERT(laid_on(worse, contact_s).peak_K >= peak_K - kelvin_slack);
  }));
}

TEST_CASE("setting goes through its stages in order, and everything stays finite") {
  CHECK(rc::check([] {
    const Case c = any_case();
    const BeforeContact before = before_contact(c);
    RC_ASSERT(std::isfinite(before.wait_s) && before.wait_s >= 0.0);
    const AfterContact after = after_contact(c, before.wait_s);
    RC_ASSERT(after.closes_s <= after.holds_s && after.holds_s <= after.set_s);
    RC_ASSERT(after.peak_K >= kelvin(30.0) && after.peak_K <= c.bath.bath_K);
    RC_ASSERT(after.damage >= 0.0 && std::isfinite(after.damage));
    if (before.ever_safe) RC_ASSERT(after.peak_K <= c.limb.peak_limit_K + kelvin_slack);
  }));
}

}  // namespace
}  // namespace warmsheet::heat_tests
