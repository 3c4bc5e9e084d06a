// SPDX-License-Identifier: MIT
#include "heat/limb.h"

#include <algorithm>
#include <cmath>

#include "heat/constants.h"

namespace warmsheet::heat {
namespace {

constexpr double first_step_s = 2e-3;
constexpr double resumed_step_s = 0.2;
constexpr double longest_step_s = 60.0;
// Thinner water is too little to hold heat of its own: it only closes the gap (0.01 mm carries 40 J/m2K, a
// sheet 4000).
constexpr double least_film_m = 1e-5;
constexpr double cell_of_water_m = 1e-4;
constexpr std::size_t most_water_cells = 6;
// The worst is over when the basal layer is this far below its peak and the sheet has given back most of its
// latent heat: the rate of release falls from half crystallised on.
constexpr double past_peak_K = 0.2;
constexpr double past_release_share = 0.6;

// The root of the wait: stop when the peak is this little below the limit. At a cooling rate of 0.2 K/s in
// the sheet and half of that at the skin, 0.01 K is 0.1 s.
constexpr double margin_K = 0.01;
constexpr double contact_share =
    0.5;  // of a warmer sheet that arrives at the basal layer; a first guess only
constexpr double least_cooling_K_s = 1e-3;
// Two moments this close are one: nobody at a bench counts tenths.
constexpr double least_bracket_s = 0.05;
constexpr int most_trials = 40;

double water_thickness_m(const SheetState& contact) {
  return contact.inner_water_kg_m2 / water_density_kg_m3;
}
bool traps_water(const SheetState& contact) {
  return water_thickness_m(contact) > least_film_m;
}

SlabLayer water_layer(double thickness_m) {
  const auto cells = std::clamp(static_cast<std::size_t>(thickness_m / cell_of_water_m) + 1, std::size_t{1},
                                most_water_cells);
  return {.conductivity_W_mK = water_conductivity_W_mK,
          .phases = Phases::unchanging(water_density_kg_m3, water_heat_J_kgK),
          .widths_m = growing_widths(thickness_m, cells, 1.0)};
}

/// Sheet and skin in one slab, just laid together.
class Together {
 public:
  Together(const Case& c, const Kinetics& kinetics, const SheetState& contact)
      : outer_(face_tables(c, Facing::sideways), contact.outer_water_kg_m2, c.limb.wrap_m2K_W),
        sheet_cells_(contact.temperature_K.size()),
        slab_(layers(c, kinetics, contact), outer_.face(), Face::held(c.limb.tissue.core_K),
              {c.accuracy.tolerance_K, first_step_s, longest_step_s}) {
    const std::size_t basal_below = basal_cell(c.accuracy.skin_fineness);
    std::vector<double> rest_K(slab_.cells() - sheet_cells_, contact.inner_surface_K);
    double depth_m = 0.0;
    for (std::size_t i = skin_first_; i < slab_.cells(); ++i) {
      rest_K[i - sheet_cells_] = resting_temperature_K(c.limb.tissue, depth_m + 0.5 * slab_.width_m(i));
      depth_m += slab_.width_m(i);
    }
    slab_.set_cells(0, contact.temperature_K, contact.progress);
    slab_.set_cells(sheet_cells_, rest_K, std::vector<double>(rest_K.size(), 0.0));
    slab_.restart(contact.time_s, first_step_s);
    basal_ = skin_first_ + basal_below;
  }

  SlabStep step(double until_s) {
    const double stop_s = outer_.next_stop_s(slab_.time_s(), slab_.state().left_outer_K, until_s);
    const SlabStep taken = slab_.step(stop_s);
    const bool fell_dry = outer_.dry(
        taken, {taken.state[0]->left_outer_K, taken.state[1]->left_outer_K, taken.state[2]->left_outer_K});
    if (fell_dry) slab_.set_faces(outer_.face(), Face::held(core_K_), resumed_step_s);
    return taken;
  }

  [[nodiscard]] std::array<double, 3> basal_K(const SlabStep& step) const {
    std::array<double, 3> basal{};
    for (std::size_t i = 0; i < basal.size(); ++i) basal[i] = slab_.interface_K(*step.state[i], basal_);
    return basal;
  }
  [[nodiscard]] std::array<double, 3> shares(const SlabStep& step) const {
    return mean_shares(slab_, step, sheet_cells_);
  }
  [[nodiscard]] double time_s() const { return slab_.time_s(); }

 private:
  std::vector<SlabLayer> layers(const Case& c, const Kinetics& kinetics, const SheetState& contact) {
    std::vector<SlabLayer> all{sheet_layer(c, kinetics)};
    skin_first_ = sheet_cells_;
    core_K_ = c.limb.tissue.core_K;
    double resistance = c.limb.liner_m2K_W;
    if (traps_water(contact)) {
      all.push_back(water_layer(water_thickness_m(contact)));
      skin_first_ += all.back().widths_m.size();
    } else {
      resistance += c.limb.contact_m2K_W;
    }
    std::vector<SlabLayer> skin = skin_layers(c.limb.tissue, c.accuracy.skin_fineness);
    skin.front().resistance_before_m2K_W = resistance;
    all.insert(all.end(), skin.begin(), skin.end());
    return all;
  }

  DryingFace outer_;
  std::size_t sheet_cells_;
  std::size_t skin_first_ = 0;
  std::size_t basal_ = 0;
  double core_K_ = 0.0;
  Slab slab_;
};

bool worst_is_over(const BasalWatch& watch, const DamageLaw& law, double basal_K, double share) {
  return share > past_release_share && basal_K < watch.peak_K() - past_peak_K && basal_K < law.threshold_K;
}

/// How far from the limits, in kelvins of basal peak; above 0 is not allowed. A doubling of damage is about a
/// kelvin.
double excess_K(const LimbCase& limb, const LimbRun& run) {
  const double by_peak = run.peak_K - limb.peak_limit_K;
  const double by_damage = run.damage > 0.0 ? std::log2(run.damage / limb.damage_limit) : by_peak;
  return std::max(by_peak, by_damage);
}

}  // namespace

LimbRun run_limb(const Case& c, const Kinetics& kinetics, const SheetState& contact, LimbGoal goal,
                 double longest_s) {
  Together together(c, kinetics, contact);
  BasalWatch basal(c.limb.tissue.damage);
  SettingWatch setting;
  LimbRun run;
  const double end_s = contact.time_s + longest_s;
  while (together.time_s() < end_s) {
    const SlabStep step = together.step(end_s);
    const std::array<double, 3> basal_K = together.basal_K(step);
    const std::array<double, 3> shares = together.shares(step);
    basal.see(step, basal_K);
    setting.see(step.time_s, shares);
    if (goal == LimbGoal::setting_curves) {
      run.basal_K.time_s.push_back(step.time_s[2] - contact.time_s);
      run.basal_K.value.push_back(basal_K[2]);
      run.crystallinity.time_s.push_back(step.time_s[2]);
      run.crystallinity.value.push_back(shares[2]);
      run.outer_surface_K.time_s.push_back(step.time_s[2]);
      run.outer_surface_K.value.push_back(step.state[2]->left_surface_K);
    }
    const bool enough = goal == LimbGoal::skin || setting.complete();
    if (enough && worst_is_over(basal, c.limb.tissue.damage, basal_K[2], shares[2])) break;
  }
  run.peak_K = basal.peak_K();
  run.peak_time_s = basal.peak_time_s() - contact.time_s;
  run.damage = basal.damage();
  run.setting = setting.setting(end_s);
  return run;
}

namespace {

/// The root of excess_K over the moment of contact: a bracket once both sides are known, before that a step
/// along the slope that the sheet's cooling suggests.
class WaitSearch {
 public:
  WaitSearch(double first_trial_s, double longest_s) : trial_s_(first_trial_s), longest_s_(longest_s) {}

  [[nodiscard]] double trial_s() const { return trial_s_; }
  /// Takes the excess at `trial_s`; true when the search is over.
  bool see(double excess_K, double cooling_K_s) {
    const bool safe = excess_K <= 0.0;
    if (safe && (excess_K > -margin_K || trial_s_ == 0.0)) return true;
    if (!safe && trial_s_ >= longest_s_) return true;
    // Illinois: an end that stays twice loses half of its weight, so that the other one moves.
    if (safe && safe_known_ && early_known_) early_K_ *= 0.5;
    if (!safe && early_known_ && safe_known_) safe_K_ *= 0.5;
    (safe ? safe_s_ : early_s_) = trial_s_;
    (safe ? safe_K_ : early_K_) = excess_K;
    (safe ? safe_known_ : early_known_) = true;
    if (safe_known_ && early_known_ && safe_s_ - early_s_ < least_bracket_s) return true;
    trial_s_ = next(excess_K, cooling_K_s);
    return false;
  }

 private:
  [[nodiscard]] double next(double excess_K, double cooling_K_s) {
    constexpr double aim = -0.5 * margin_K;
    if (safe_known_ && early_known_)
      return early_s_ + (safe_s_ - early_s_) * (early_K_ - aim) / (early_K_ - safe_K_);
    // One-sided steps grow, so that a plateau in the cooling curve cannot hold the search up.
    const double step_s =
        stride_ * (excess_K - aim) / (contact_share * std::max(cooling_K_s, least_cooling_K_s));
    stride_ *= 2.0;
    const double trial_s = std::clamp(trial_s_ + step_s, 0.0, longest_s_);
    return trial_s < least_bracket_s ? 0.0 : trial_s;
  }

  double trial_s_;
  double longest_s_;
  double stride_ = 1.0;
  double early_s_ = 0.0;
  double early_K_ = 0.0;
  double safe_s_ = 0.0;
  double safe_K_ = 0.0;
  bool early_known_ = false;
  bool safe_known_ = false;
};

}  // namespace

std::optional<Wait> find_wait(const Case& c, const Kinetics& kinetics, AirRun& air, double guess_K,
                              double longest_s) {
  std::optional<Wait> best;
  WaitSearch search(air.time_of_fall(guess_K, longest_s).value_or(longest_s), longest_s);
  for (int trial = 0; trial < most_trials; ++trial) {
    const double trial_s = search.trial_s();
    const LimbRun run = run_limb(c, kinetics, air.at(trial_s), LimbGoal::skin, longest_s);
    const double excess = excess_K(c.limb, run);
    if (excess <= 0.0 && (!best || trial_s < best->time_s)) best = Wait{trial_s, run};
    if (search.see(excess, -air.drift_K_s(trial_s))) break;
  }
  return best;
}

}  // namespace warmsheet::heat
