// SPDX-License-Identifier: MIT
#include "heat/timing.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "heat/chain.h"
#include "heat/constants.h"
#include "heat/inputs.h"
#include "heat/ranges.h"
#include "heat/situation.h"

namespace warmsheet::heat {
namespace {

// An input that carries less of the variance than this is not worth measuring, and a hundred draws cannot
// tell it from chance (the squared correlation of unrelated columns is 1/n on average).
constexpr double least_share = 0.05;
constexpr std::size_t drivers_each = 2;

constexpr unsigned bath_parts = static_cast<unsigned>(Part::heating);
constexpr unsigned drop_parts = Part::heating | Part::drop;
constexpr unsigned limb_parts = Part::cooling | Part::skin;
constexpr unsigned scald_parts = static_cast<unsigned>(Part::scald);

/// Values of one result over all draws, and for the central case.
struct Result {
  double central = 0.0;
  std::vector<double> drawn = {};
};

/// Everything worked out for a situation, still as numbers.
struct Study {
  explicit Study(const Situation& s)
      : situation(&s), inputs(s), varying(inputs.varying()), central(inputs.central()) {}

  const Situation* situation;
  Inputs inputs;
  std::vector<const Input*> varying;
  Case central;
  std::optional<Hypercube> cube = {};
  BeforeContact before = {};
  AfterContact after = {};
  std::vector<BeforeContact> drawn_before = {};
  std::vector<AfterContact> drawn_after = {};
  double contact_s = 0.0;  ///< the wait that is reported
  double earliest_s = 0.0;
};

Case draw(const Study& study, std::size_t sample) {
  std::vector<double> values;
  for (std::size_t j = 0; j < study.varying.size(); ++j)
    values.push_back(value_at(study.varying[j]->figure.range_si(), study.cube->at(sample, j)));
  return study.inputs.drawn(study.varying, values);
}

void draw_cube(Study& study) {
  if (study.situation->samples == 0 || study.varying.empty()) return;
  std::vector<std::string> names;
  for (const Input* input : study.varying) names.push_back(input->figure.name());
  study.cube.emplace(static_cast<std::size_t>(study.situation->samples), names, study.situation->seed);
}

/// The wait that is reported is the one that 95 of 100 draws need, so it is found before anything that
/// follows contact.
void study_before(Study& study) {
  study.before = before_contact(study.central);
  study.contact_s = study.earliest_s = study.before.wait_s;
  if (!study.cube) return;
  study.drawn_before.resize(study.cube->samples());
  in_parallel(study.cube->samples(), [&](std::size_t i) {
    study.drawn_before[i] = before_contact(draw(study, i), study.before.contact_mean_K);
  });
  std::vector<double> waits;
  for (const BeforeContact& b : study.drawn_before) waits.push_back(b.wait_s);
  study.contact_s = std::max(quantile(waits, high_quantile), study.before.wait_s);
  study.earliest_s = quantile(waits, low_quantile);
}

void study_after(Study& study) {
  study.after = after_contact(study.central, study.contact_s);
  if (!study.cube) return;
  study.drawn_after.resize(study.cube->samples());
  in_parallel(study.cube->samples(),
              [&](std::size_t i) { study.drawn_after[i] = after_contact(draw(study, i), study.contact_s); });
}

Result result(const Study& study, double BeforeContact::*member) {
  Result r{study.before.*member};
  for (const BeforeContact& b : study.drawn_before) r.drawn.push_back(b.*member);
  return r;
}

Result result(const Study& study, double AfterContact::*member) {
  Result r{study.after.*member};
  for (const AfterContact& a : study.drawn_after) r.drawn.push_back(a.*member);
  return r;
}

Range range_of(const Study& study, const Result& r) {
  return study.cube ? spread(r.drawn, r.central, *study.cube) : Range::exactly(r.central);
}

std::string with_draws(const Study& study, const char* model) {
  return study.cube ? fmt::format("{}; median, 5 % and 95 % of {} draws", model, study.cube->samples())
                    : fmt::format("{}; central values only", model);
}

Figure figure(const Study& study, const char* name, const Range& range, const Unit& unit, const char* model,
              unsigned parts) {
  return Figure::derived(name, range, unit, with_draws(study, model), study.inputs.figures(parts));
}

constexpr const char* bath_model =
    "conduction with melting through half the sheet, both faces behind the water's film (implicit finite "
    "volumes in enthalpy)";
constexpr const char* limb_model =
    "sheet cooled in air until `wait`, then on skin: conduction, Hoffman-Lauritzen and Nakamura "
    "crystallisation, Pennes skin";

void state_bath(const Study& study, Timing& timing) {
  const auto timed = [&](const char* name, double BeforeContact::*member) {
    return figure(study, name, range_of(study, result(study, member)), units::second(), bath_model,
                  bath_parts);
  };
  timing.half_soft = timed("half_soft", &BeforeContact::half_soft_s);
  timing.ready = timed("ready", &BeforeContact::ready_s);
  timing.bath_drop =
      figure(study, "bath_drop", range_of(study, result(study, &BeforeContact::bath_drop_K)),
             units::kelvin_difference(),
             "heat taken by the sheet until ready over the heat capacity of the bath's water", drop_parts);
  if (study.central.bath.bath_K < study.central.limb.tissue.damage.threshold_K)
    timing.bath_scald = Finding::absent("the bath is below the temperature at which skin is damaged");
  else
    timing.bath_scald = figure(
        study, "bath_scald", range_of(study, result(study, &BeforeContact::bath_scald_s)), units::second(),
        "Pennes skin with its surface held at the bath's temperature until the Henriques integral is 0.53",
        scald_parts);
}

/// Nothing after contact exists if there is no moment to lay it on.
void state_no_wait(const Study& study, Timing& timing) {
  const Finding none =
      Finding::absent(fmt::format("within an hour of lifting out there is no moment at which this sheet "
                                  "stays within the limits of {} skin",
                                  study.situation->skin->name));
  for (Finding* finding : {&timing.wait, &timing.closes, &timing.window, &timing.holds_shape, &timing.set,
                           &timing.peak_skin, &timing.damage})
    *finding = none;
  timing.safe_window = false;
}

Finding window_of(const Study& study, const Timing& timing) {
  const Figure& wait = timing.wait.figure();
  const Figure& closes = timing.closes.figure();
  if (wait.si() >= closes.low_si())
    return Finding::absent(
        "judged on the safe side, this sheet may begin to stiffen before it may touch skin (`wait` against "
        "the low bound "
        "of `closes`); a thinner sheet, a liner, or figures measured at your own bench would open a window");
  const Range range{closes.si() - wait.si(), closes.low_si() - wait.si(), closes.high_si() - wait.si()};
  return Figure::derived("window", range, units::second(),
                         study.cube ? "closes - wait, with the wait of the safe side" : "closes - wait",
                         {closes, wait});
}

void state_limb(const Study& study, Timing& timing) {
  const Range waits{study.contact_s, std::min(study.earliest_s, study.contact_s), study.contact_s};
  timing.wait = Figure::derived(
      "wait", waits, units::second(),
      study.cube ? fmt::format("first moment at which, laid on and left there, skin stays within its limits: "
                               "the wait that 95 % of {} draws need; low is what 5 % need",
                               study.cube->samples())
                 : "first moment at which, laid on and left there, skin stays within its limits; central "
                   "values only, not on the safe side",
      study.inputs.figures(limb_parts));
  const auto stated = [&](const char* name, double AfterContact::*member, const Unit& unit) {
    return figure(study, name, range_of(study, result(study, member)), unit, limb_model, limb_parts);
  };
  timing.closes = stated("closes", &AfterContact::closes_s, units::second());
  timing.holds_shape = stated("holds_shape", &AfterContact::holds_s, units::second());
  timing.set = stated("set", &AfterContact::set_s, units::second());
  timing.peak_skin = stated("peak_skin", &AfterContact::peak_K, units::celsius());
  timing.damage = stated("damage", &AfterContact::damage, units::one());
  timing.window = window_of(study, timing);
  timing.safe_window = timing.window.known();
}

/// The inputs that carry most of one result's variance, most first.
void add_drivers(const Study& study, const char* name, const Result& r, std::vector<Driver>& drivers) {
  const std::vector<double> shares = first_order_shares(r.drawn, *study.cube);
  std::vector<std::size_t> order(shares.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return shares[a] > shares[b]; });
  for (std::size_t rank = 0; rank < std::min(drivers_each, order.size()); ++rank) {
    const double share = shares[order[rank]];
    if (share < least_share) break;
    const Figure& input = study.varying[order[rank]]->figure;
    drivers.push_back(
        {name, input,
         Figure::derived("share", Range::exactly(share), units::percent(),
                         fmt::format("squared correlation of {} with {} over the draws", name, input.name()),
                         {input})});
  }
}

void state_drivers(const Study& study, Timing& timing) {
  if (!study.cube) return;
  add_drivers(study, "half_soft", result(study, &BeforeContact::half_soft_s), timing.drivers);
  add_drivers(study, "ready", result(study, &BeforeContact::ready_s), timing.drivers);
  if (!timing.wait.known()) return;
  add_drivers(study, "wait", result(study, &BeforeContact::wait_s), timing.drivers);
  add_drivers(study, "closes", result(study, &AfterContact::closes_s), timing.drivers);
  add_drivers(study, "holds_shape", result(study, &AfterContact::holds_s), timing.drivers);
  add_drivers(study, "set", result(study, &AfterContact::set_s), timing.drivers);
  add_drivers(study, "peak_skin", result(study, &AfterContact::peak_K), timing.drivers);
}

Curve curve(const char* name, Track track, double zero) {
  for (double& value : track.value) value -= zero;
  return {name, std::move(track.time_s), std::move(track.value)};
}

void state_curves(const Study& study, Timing& timing) {
  Curves curves = curves_of(study.central, study.contact_s);
  timing.bath_middle = curve("middle of the sheet", std::move(curves.bath_middle_K), zero_C_K);
  timing.sheet_surface = curve("surface of the sheet", std::move(curves.sheet_surface_K), zero_C_K);
  timing.crystallinity = curve("share crystallised", std::move(curves.crystallinity), 0.0);
  timing.skin_basal = curve("living layer of the skin", std::move(curves.skin_basal_K), zero_C_K);
}

Timing empty_timing() {
  const Finding none = Finding::absent("not worked out");
  return {.half_soft = none,
          .ready = none,
          .wait = none,
          .closes = none,
          .window = none,
          .holds_shape = none,
          .set = none,
          .peak_skin = none,
          .damage = none,
          .bath_drop = none,
          .bath_scald = none,
          .safe_window = false,
          .drivers = {},
          .bath_middle = {},
          .sheet_surface = {},
          .crystallinity = {},
          .skin_basal = {}};
}

}  // namespace

std::vector<NamedFinding> Timing::results() const {
  return {{"half_soft", half_soft},
          {"ready", ready},
          {"wait", wait},
          {"closes", closes},
          {"window", window},
          {"holds_shape", holds_shape},
          {"set", set},
          {"peak_skin", peak_skin},
          {"damage", damage}};
}

Timing time(const Situation& situation) {
  require_sound(situation);
  Study study(situation);
  draw_cube(study);
  study_before(study);
  Timing timing = empty_timing();
  state_bath(study, timing);
  if (study.before.ever_safe && study.contact_s < longest_run_s) {
    study_after(study);
    state_limb(study, timing);
    state_curves(study, timing);
  } else {
    state_no_wait(study, timing);
    study.contact_s = std::min(study.contact_s, longest_run_s);
  }
  state_drivers(study, timing);
  return timing;
}

}  // namespace warmsheet::heat
