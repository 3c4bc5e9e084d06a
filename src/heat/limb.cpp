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
// Thinner water than this (a tenth of a gram per square metre) is none.
constexpr double least_film_m = 1e-7;
constexpr double cell_of_water_m = 1e-4;
constexpr std::size_t most_water_cells = 6;
// The worst is over when the basal layer is this far below its peak and the sheet has given back most of its
// latent heat: the rate of release falls from half crystallised on.
constexpr double past_peak_K = 0.2;
constexpr double past_release_share = 0.6;

// The root of the wait: the peak ends up this little below the limit. At a cooling rate of 0.2 K/s in the
// sheet and half of that at the skin, 0.01 K is 0.1 s.
constexpr double margin_K = 0.01;
// Between ends whose product is this a straight line misses the root by half its square root at most, however
// sharp the bend where a face falls dry: 0.01 K.
constexpr double straight_K2 = 4e-4;
constexpr double contact_share =
    0.5;  // of a warmer sheet that arrives at the basal layer; a first guess only
constexpr double least_cooling_K_s = 1e-3;
constexpr double first_stride_s = 30.0;
constexpr double least_wait_s = 0.05;  // less is at once: nobody at a bench counts tenths
constexpr int most_trials = 40;

double water_thickness_m(const SheetState& contact) {
  return contact.inner_water_kg_m2 / water_density_kg_m3;
}
bool traps_water(const SheetState& contact) {
  return water_thickness_m(contact) > least_film_m;
}

/// A contact resistance is a thin gap of air; water fills it as far as it goes.
double gap_resistance_m2K_W(const Case& c, double water_m) {
  const double air_W_mK = air_film(c.limb.tissue.surface_K, c.air.room.pressure_Pa).conductivity_W_mK;
  return std::max(0.0, c.limb.contact_m2K_W - water_m / air_W_mK);
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
  Together(const Bench& bench, const SheetState& contact)
      : outer_(bench.outer_on_limb(), contact.outer_water_kg_m2, bench.of().limb.wrap_m2K_W),
        sheet_cells_(contact.temperature_K.size()),
        slab_(layers(bench, contact), outer_.face(), Face::held(bench.of().limb.tissue.core_K),
              {bench.of().accuracy.tolerance_K, first_step_s, longest_step_s}) {
    const Case& c = bench.of();
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
  std::vector<SlabLayer> layers(const Bench& bench, const SheetState& contact) {
    const Case& c = bench.of();
    std::vector<SlabLayer> all{sheet_layer(bench)};
    skin_first_ = sheet_cells_;
    core_K_ = c.limb.tissue.core_K;
    const double resistance = c.limb.liner_m2K_W + gap_resistance_m2K_W(c, water_thickness_m(contact));
    if (traps_water(contact)) {
      all.push_back(water_layer(water_thickness_m(contact)));
      skin_first_ += all.back().widths_m.size();
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

}  // namespace

LimbRun run_limb(const Bench& bench, const SheetState& contact, LimbGoal goal, double longest_s) {
  const Case& c = bench.of();
  Together together(bench, contact);
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
      run.damage_so_far.time_s.push_back(step.time_s[2] - contact.time_s);
      run.damage_so_far.value.push_back(basal.damage());
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

struct Trial {
  double time_s;
  double excess_K;  ///< how far from the limits, in kelvins of basal peak; above 0 is not allowed
  bool by_damage;   ///< the damage limit is the nearer one
};

Trial judge(const LimbCase& limb, double time_s, const LimbRun& run) {
  const double by_peak = run.peak_K - limb.peak_limit_K;
  // A doubling of damage is about a kelvin.
  const double by_damage = run.damage > 0.0 ? std::log2(run.damage / limb.damage_limit) : by_peak;
  return {time_s, std::max(by_peak, by_damage), by_damage > by_peak};
}

/// The root of the excess over the moment of contact: secants inside a bracket once both sides are known,
/// before that steps along the slope that the sheet's cooling suggests.
class WaitSearch {
 public:
  WaitSearch(double first_s, double longest_s) : next_s_(first_s), longest_s_(longest_s) {}

  [[nodiscard]] double next_s() const { return next_s_; }
  [[nodiscard]] std::optional<double> found_s() const { return found_s_; }

  /// True when the search is over.
  bool see(Trial trial, double cooling_K_s) {
    const bool safe = trial.excess_K <= 0.0;
    if (safe && (trial.excess_K > -margin_K || trial.time_s == 0.0)) found_s_ = trial.time_s;
    if (found_s_ || (!safe && trial.time_s >= longest_s_)) return true;
    (safe ? safe_ : early_) = trial;
    next_s_ = bracketed() ? inside(trial) : outward(trial, cooling_K_s);
    // Where both ends are near the limit, the straight line between them misses the root by less than the
    // margin.
    if (straight()) found_s_ = next_s_;
    last_ = trial;
    return found_s_.has_value();
  }

 private:
  [[nodiscard]] bool bracketed() const { return safe_ && early_; }
  [[nodiscard]] bool straight() const {
    // Damage starts at a threshold and bends too much for that.
    return bracketed() && !early_->by_damage && !safe_->by_damage &&
           early_->excess_K * -safe_->excess_K < straight_K2;
  }

  [[nodiscard]] static double secant_s(const Trial& a, const Trial& b) {
    return a.time_s + (b.time_s - a.time_s) * (a.excess_K - aim_K) / (a.excess_K - b.excess_K);
  }

  [[nodiscard]] double inside(const Trial& trial) const {
    const double by_secant_s = last_ ? secant_s(*last_, trial) : 0.0;
    const bool kept = by_secant_s > early_->time_s && by_secant_s < safe_->time_s;
    return kept ? by_secant_s : secant_s(*early_, *safe_);
  }

  /// Steps grow, so that a plateau in the cooling curve cannot hold the search up, but at most double the
  /// time.
  [[nodiscard]] double outward(const Trial& trial, double cooling_K_s) {
    const double slope = contact_share * std::max(cooling_K_s, least_cooling_K_s);
    const double most_s = trial.time_s + first_stride_s;
    const double step_s = std::clamp(stride_ * (trial.excess_K - aim_K) / slope, -trial.time_s, most_s);
    stride_ *= 2.0;
    const double next_s = std::min(trial.time_s + step_s, longest_s_);
    return next_s < least_wait_s ? 0.0 : next_s;
  }

  // Aim within the margin, on its safe side.
  static constexpr double aim_K = -0.5 * margin_K;

  double next_s_;
  double longest_s_;
  double stride_ = 1.0;
  std::optional<Trial> early_ = {};
  std::optional<Trial> safe_ = {};
  std::optional<Trial> last_ = {};
  std::optional<double> found_s_ = {};
};

}  // namespace

std::optional<double> find_wait(const Bench& bench, AirRun& air, const ContactGuess& guess,
                                double longest_s) {
  WaitSearch search(air.time_of(guess, longest_s).value_or(longest_s), longest_s);
  for (int count = 0; count < most_trials; ++count) {
    const double time_s = search.next_s();
    const LimbRun run = run_limb(bench, air.at(time_s), LimbGoal::skin, longest_s);
    if (search.see(judge(bench.of().limb, time_s, run), -air.drift_K_s(time_s))) break;
  }
  return search.found_s();
}

}  // namespace warmsheet::heat
