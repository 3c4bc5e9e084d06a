// SPDX-License-Identifier: MIT
#include "heat/chain.h"

#include <algorithm>
#include <utility>

#include "heat/edge_dip.h"

namespace warmsheet::heat {
namespace {

// Sheet at which a bare adult's basal layer stays near 43 C in the simplest contact model (two
// half-spaces: 43.1 C for 60 C): only where the first search begins.
constexpr double first_guess_above_limit_K = 17.0;
// From here on the crystallinity tells the moments of a cooling sheet apart; its temperature hardly moves any
// more.
constexpr double telling_share = 5e-3;

/// One run serves both where there are no holes and no water to wipe off.
bool judged_apart(const Case& c) {
  return c.air.undried || c.sheet.open_area > 0.0;
}

void append(Track& track, const Track& more, double shift_s) {
  for (std::size_t i = 0; i < more.time_s.size(); ++i) {
    track.time_s.push_back(more.time_s[i] + shift_s);
    track.value.push_back(more.value[i]);
  }
}

}  // namespace

Case as_skin_meets_it(Case c) {
  if (c.air.undried) c.air.evaporates = false;
  return c;
}

Case as_it_sets(Case c) {
  c.sheet.solid_share = 1.0 - c.sheet.open_area;
  if (c.air.undried) c.air.towel_W_s05_m2K.reset();
  return c;
}

BeforeContact before_contact(const Case& c, const ContactGuess& guess) {
  const BathRun bath = run_bath(c, longest_run_s);
  const Bench bench(as_skin_meets_it(c));
  AirRun air(bench);
  const std::optional<double> wait_s = find_wait(bench, air, guess, longest_run_s);
  const auto scald_s = [&](const Tissue& hand) {
    return scald_time_s(hand, c.bath.bath_K, first_degree_damage, longest_run_s).value_or(longest_run_s);
  };
  BeforeContact before{.half_soft_s = bath.half_soft_s.value_or(longest_run_s),
                       .ready_s = bath.ready_s.value_or(longest_run_s),
                       .bath_drop_K = bath_drop_K(c, bath.heat_J_m2),
                       .edge_reach_m = edge_reach_m(c, bath.ready_s.value_or(longest_run_s)),
                       .bath_scald_s = scald_s(c.hand.back),
                       .palm_scald_s = scald_s(c.hand.palm),
                       .wait_s = wait_s.value_or(longest_run_s),
                       .melts = bath.ready_s.has_value(),
                       .ever_safe = wait_s.has_value(),
                       .contact = guess};
  if (!wait_s) return before;
  const SheetState then = air.at(*wait_s);
  before.contact = {then.mean_K, then.mean_share > telling_share ? then.mean_share : 0.0};
  return before;
}

BeforeContact before_contact(const Case& c) {
  return before_contact(c, ContactGuess{c.limb.peak_limit_K + first_guess_above_limit_K});
}

AfterContact after_contact(const Case& c, double contact_s) {
  const Bench setting(as_it_sets(c));
  AirRun air(setting);
  const Setting in_air = air.setting_until(contact_s);
  const LimbRun limb = run_limb(setting, air.at(contact_s), LimbGoal::setting, longest_run_s);
  const auto first = [&](const std::optional<double>& air_s, const std::optional<double>& limb_s) {
    return air_s ? *air_s : limb_s.value_or(contact_s + longest_run_s);
  };
  AfterContact after{.closes_s = first(in_air.closes_s, limb.setting.closes_s),
                     .holds_s = first(in_air.holds_s, limb.setting.holds_s),
                     .set_s = first(in_air.set_s, limb.setting.set_s),
                     .peak_K = limb.peak_K,
                     .damage = limb.damage,
                     .sets = in_air.set_s || limb.setting.set_s};
  if (!judged_apart(c)) return after;
  const Bench on_skin(as_skin_meets_it(c));
  const LimbRun skin = run_limb(on_skin, AirRun(on_skin).at(contact_s), LimbGoal::skin, longest_run_s);
  after.peak_K = skin.peak_K;
  after.damage = skin.damage;
  return after;
}

Curves curves_of(const Case& c, double contact_s) {
  const Bench setting(as_it_sets(c));
  AirRun air(setting);
  const LimbRun limb = run_limb(setting, air.at(contact_s), LimbGoal::setting_curves, longest_run_s);
  const Bench on_skin(as_skin_meets_it(c));
  const LimbRun skin = judged_apart(c) ? run_limb(on_skin, AirRun(on_skin).at(contact_s),
                                                  LimbGoal::setting_curves, longest_run_s)
                                       : limb;
  BathRun bath = run_bath(c, longest_run_s, true);
  Curves curves{std::move(bath.middle_K),           air.outer_surface_until(contact_s),
                air.crystallinity_until(contact_s), skin.basal_K,
                std::move(bath.molten_m),           skin.damage_so_far};
  append(curves.sheet_surface_K, limb.outer_surface_K, 0.0);
  append(curves.crystallinity, limb.crystallinity, 0.0);
  return curves;
}

}  // namespace warmsheet::heat
