// SPDX-License-Identifier: MIT
#include "heat/timing.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "base/dimension.h"
#include "base/parallel.h"
#include "heat/chain.h"
#include "heat/constants.h"
#include "heat/inputs.h"
#include "heat/ranges.h"
#include "heat/situation.h"

namespace warmsheet::heat {
namespace {

// An input that carries less of the variance than this is not worth measuring. Few draws cannot tell it from
// chance: the largest of some forty unrelated columns reaches about six over their number.
constexpr double least_share = 0.05;
constexpr double chance_share = 6.0;
constexpr std::size_t drivers_each = 2;

constexpr unsigned bath_parts = static_cast<unsigned>(Part::heating);
constexpr unsigned drop_parts = Part::heating | Part::drop;
constexpr auto limb_parts = static_cast<unsigned>(Part::after_bath);
constexpr unsigned set_parts = limb_parts | Part::setting;
constexpr unsigned edge_parts = Part::heating | Part::edge;
constexpr auto scald_parts = static_cast<unsigned>(Part::scald);
constexpr auto palm_parts = static_cast<unsigned>(Part::palm);

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
};

Case draw(const Study& study, std::size_t sample) {
  std::vector<double> values;
  for (std::size_t j = 0; j < study.varying.size(); ++j)
    values.push_back(value_at(study.varying[j]->figure.range_si(), study.cube->at(sample, j)));
  return study.inputs.drawn(study.varying, values);
}

/// Without the sheet's id: sheets are compared by the same draws, and two with the same figures are alike.
std::string stream_of(const std::string& name) {
  constexpr std::string_view sheets = "sheets.";
  if (!name.starts_with(sheets)) return name;
  return "sheet" + name.substr(std::min(name.size(), name.find('.', sheets.size())));
}

void draw_cube(Study& study) {
  if (study.situation->samples == 0 || study.varying.empty()) return;
  std::vector<std::string> names;
  // Two figures of one name are kept apart: the same name would mean the same draws.
  std::map<std::string, std::size_t> namesakes;
  for (const Input* input : study.varying)
    names.push_back(stream_of(input->figure.name()) + std::string(namesakes[input->figure.name()]++, '\''));
  study.cube.emplace(static_cast<std::size_t>(study.situation->samples), names, study.situation->seed);
}

/// Why the sheet is not ready, and what to change.
struct NotReady {
  std::string why;
  std::string change;
};

NotReady air_keeps_it_hard() {
  return {"the air keeps the face below its melting end that no water reaches",
          "heat the piece in the bath, or use hotter water"};
}

NotReady too_slow(const Study& study) {
  return {fmt::format("heat gets too slowly through {:.4g} mm of sheet behind a film of {:.3g} W/m2K",
                      study.central.sheet.thickness_m * mm_per_m, study.central.bath.film_W_m2K),
          "look at the thickness and the film coefficient"};
}

NotReady too_little_water(const Study& study) {
  const double bath_C = study.central.bath.bath_K - zero_C_K;
  return {fmt::format("{:.1f} l of water at {:.1f} C cool to {:.1f} C under it",
                      study.central.bath.water_m3 * l_per_m3, bath_C, bath_C - study.before.bath_drop_K),
          "use more water, a smaller piece, or a hotter bath"};
}

/// What the temperatures alone do not show.
void require_ready(const Study& study) {
  if (study.before.melts) return;
  const BathCase& bath = study.central.bath;
  const bool still_hot =
      !bath.cools || bath.bath_K - study.before.bath_drop_K > study.central.sheet.phases.melting_end_K;
  const NotReady found = bath.one_face ? air_keeps_it_hard()
                         : still_hot   ? too_slow(study)
                                       : too_little_water(study);
  throw Failure(Problem{Trouble::no_answer,
                        {},
                        fmt::format("the sheet is not ready within an hour: {}", found.why),
                        found.change});
}

NotReady may_not_melt(const Study& study) {
  const Figure& end = study.situation->sheet->thermal.melting_end;
  return {
      fmt::format("its melting ends somewhere from {:.0f} to {:.0f} C, and the bath is at {:.1f} C",
                  end.low_si() - zero_C_K, end.high_si() - zero_C_K, study.central.bath.bath_K - zero_C_K),
      fmt::format("set the bath above {:.0f} C, look at the thickness and the film coefficient, or ask the "
                  "supplier where the sheet melts",
                  std::ceil(end.high_si() - zero_C_K))};
}

/// A bound that no draw reached would be the end of the run, no figure.
bool too_many(std::ptrdiff_t unreached, std::size_t draws) {
  return static_cast<double>(unreached) > (1.0 - high_quantile) * static_cast<double>(draws);
}

void require_ready_draws(const Study& study) {
  const auto hard = std::count_if(study.drawn_before.begin(), study.drawn_before.end(),
                                  [](const BeforeContact& b) { return !b.melts; });
  if (!too_many(hard, study.drawn_before.size())) return;
  const NotReady found = study.central.bath.one_face ? air_keeps_it_hard() : may_not_melt(study);
  throw Failure(
      Problem{Trouble::no_answer,
              {},
              fmt::format("the sheet may not be ready within an hour: in {} of {} draws it is not: {}", hard,
                          study.drawn_before.size(), found.why),
              found.change});
}

/// Whole seconds of a stopwatch, rounded up: a wait shown shorter than it is would be no wait.
double to_be_waited_s(double wait_s) {
  return std::ceil(wait_s);
}

/// The wait that is reported is surely enough for 95 of 100 draws, so it is found before anything that
/// follows contact.
void study_before(Study& study) {
  study.before = before_contact(study.central);
  require_ready(study);
  study.contact_s = to_be_waited_s(study.before.wait_s);
  if (!study.cube) return;
  study.drawn_before.resize(study.cube->samples());
  in_parallel(study.cube->samples(), study.situation->threads, [&](std::size_t i) {
    study.drawn_before[i] = before_contact(draw(study, i), study.before.contact);
  });
  require_ready_draws(study);
  std::vector<double> waits;
  for (const BeforeContact& b : study.drawn_before) waits.push_back(b.wait_s);
  study.contact_s = to_be_waited_s(std::max(surely_enough_for(waits, high_quantile), study.before.wait_s));
}

void require_setting(const Study& study) {
  const auto soft = std::count_if(study.drawn_after.begin(), study.drawn_after.end(),
                                  [](const AfterContact& a) { return !a.sets; });
  if (study.after.sets && !too_many(soft, study.drawn_after.size())) return;
  throw Failure(Problem{
      Trouble::no_answer,
      {},
      study.after.sets ? fmt::format("the sheet may not set on the limb within an hour: in {} of {} draws it "
                                     "does not",
                                     soft, study.drawn_after.size())
                       : "the sheet does not set on the limb within an hour",
      "look at the sheet's setting half-time at 42 C, time strips of it and calibrate, or "
      "work in a cooler room"});
}

void study_after(Study& study) {
  study.after = after_contact(study.central, study.contact_s);
  if (!study.cube) return require_setting(study);
  study.drawn_after.resize(study.cube->samples());
  in_parallel(study.cube->samples(), study.situation->threads,
              [&](std::size_t i) { study.drawn_after[i] = after_contact(draw(study, i), study.contact_s); });
  require_setting(study);
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
  return study.cube ? spread(r.drawn, r.central) : Range::exactly(r.central);
}

std::string with_draws(const Study& study, const char* model) {
  return study.cube ? fmt::format("{}; for the central figures, with the 5 % and 95 % bounds of {} draws",
                                  model, study.cube->samples())
                    : fmt::format("{}; for the central figures only", model);
}

/// How a result is called, shown and explained.
struct Spec {
  const char* name;
  const Unit& unit;
  const char* model;
  unsigned parts;
  bool narrows = true;  ///< somebody plans by it, so its drivers are listed
};

/// Draws tell no more of a share.
double whole_percent(double share) {
  return std::round(share * 100.0) / 100.0;
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
    if (share < std::max(least_share, chance_share / static_cast<double>(study.cube->samples()))) break;
    const Figure& input = study.varying[order[rank]]->figure;
    drivers.push_back({name, input,
                       Figure::derived("share", Range::exactly(whole_percent(share)), units::percent(),
                                       fmt::format("squared standardised slope of {} in {} over the draws",
                                                   name, input.name()),
                                       {input})});
  }
}

/// A number becomes a figure; what widens it is noted on the way.
Figure conclude(const Study& study, const Spec& spec, const Result& r, Timing& timing) {
  const std::vector<Figure> inputs = study.inputs.figures(spec.parts);
  if (study.cube && spec.narrows) add_drivers(study, spec.name, r, timing.drivers);
  return Figure::derived(spec.name, range_of(study, r), spec.unit, with_draws(study, spec.model), inputs);
}

constexpr const char* bath_model =
    "conduction with melting through half the sheet, both faces behind the water's film (implicit finite "
    "volumes in enthalpy)";
constexpr const char* spot_model =
    "conduction with melting through the whole sheet, one face behind the water's film and the other in the "
    "room's air (implicit finite volumes in enthalpy)";
constexpr const char* drop_model =
    "heat taken by the sheet until ready over the heat capacity of the bath's water";
constexpr const char* scald_model =
    "Pennes skin of the hand at the bath, its surface held at the water's temperature until the Henriques "
    "integral is 0.53, a first-degree burn";
constexpr const char* edge_model =
    "heat creeping along the sheet from the waterline, as in a fin that loses it to the air, until the "
    "dipped part is ready; half of the crystals gone";
constexpr const char* limb_model =
    "sheet cooled on its towel or in air until `wait`, then on skin and left there: conduction, "
    "Hoffman-Lauritzen and Nakamura crystallisation, Pennes skin; holes take their share of the mass";
constexpr const char* skin_model =
    "sheet cooled on its towel or in air until `wait`, then on skin and left there: conduction and Pennes "
    "skin; holes and, on an undried sheet, evaporation are not taken to cool it";

void state_bath(const Study& study, Timing& timing) {
  const Unit& s = units::second();
  const char* const model = study.central.bath.one_face ? spot_model : bath_model;
  timing.half_soft = conclude(study, {"half_soft", s, model, bath_parts},
                              result(study, &BeforeContact::half_soft_s), timing);
  timing.ready =
      conclude(study, {"ready", s, model, bath_parts}, result(study, &BeforeContact::ready_s), timing);
  timing.bath_drop = conclude(study, {"bath_drop", units::kelvin_difference(), drop_model, drop_parts, false},
                              result(study, &BeforeContact::bath_drop_K), timing);
  timing.edge_reach = conclude(study, {"edge_reach", units::millimetre(), edge_model, edge_parts, false},
                               result(study, &BeforeContact::edge_reach_m), timing);
  timing.bath_scald = conclude(study, {"bath_scald", s, scald_model, scald_parts, false},
                               result(study, &BeforeContact::bath_scald_s), timing);
  timing.palm_scald = conclude(study, {"palm_scald", s, scald_model, palm_parts, false},
                               result(study, &BeforeContact::palm_scald_s), timing);
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
}

std::string what_may_help(const Situation& s) {
  std::string help = s.dried ? "" : "drying it, ";
  if (s.layers > 1) help += "one layer, ";
  if (s.wrap) help += "no wrap, ";
  help += s.liner ? "a second layer of liner, " : "a liner, ";
  return help + "a thinner sheet, or figures measured at your own bench may open a window";
}

Finding window_of(const Study& study, const Timing& timing) {
  const Figure& wait = timing.wait.figure();
  const Figure& closes = timing.closes.figure();
  if (study.situation->lifted && closes.low_si() <= 0.0)
    return Finding::absent(fmt::format(
        "lifted so early it {} soft throughout and cannot be shaped; leave it in until it is ready",
        closes.si() <= 0.0 ? "is not" : "may not be"));
  if (wait.si() >= closes.low_si())
    return Finding::absent(fmt::format(
        "judged on the safe side, this sheet may begin to stiffen before it may touch skin (`wait` "
        "against the low bound of `closes`); {}",
        what_may_help(*study.situation)));
  const Range range{closes.si() - wait.si(), closes.low_si() - wait.si(), closes.high_si() - wait.si()};
  return Figure::derived("window", range, units::second(),
                         study.cube ? "closes - wait, with the wait of the safe side" : "closes - wait",
                         {closes, wait});
}

Figure wait_of(const Study& study) {
  const std::string first =
      "first moment at which the sheet, laid on and left there, keeps skin within its limits";
  const std::string how =
      study.cube
          ? fmt::format(
                "{}; enough for 95 % of all draws, told from {} with 95 % confidence, in whole seconds",
                first, study.cube->samples())
          : first + "; for the central figures only, not on the safe side";
  return Figure::derived("wait", Range::exactly(study.contact_s), units::second(), how,
                         study.inputs.figures(limb_parts));
}

void state_limb(const Study& study, Timing& timing) {
  const auto on_skin = [&](const char* name, const Unit& unit, double AfterContact::*member) {
    return conclude(study, {name, unit, skin_model, limb_parts}, result(study, member), timing);
  };
  const auto setting = [&](const char* name, double AfterContact::*member) {
    return conclude(study, {name, units::second(), limb_model, set_parts}, result(study, member), timing);
  };
  timing.wait = wait_of(study);
  if (study.cube) add_drivers(study, "wait", result(study, &BeforeContact::wait_s), timing.drivers);
  timing.closes = setting("closes", &AfterContact::closes_s);
  timing.holds_shape = setting("holds_shape", &AfterContact::holds_s);
  timing.set = setting("set", &AfterContact::set_s);
  timing.peak_skin = on_skin("peak_skin", units::celsius(), &AfterContact::peak_K);
  timing.damage = on_skin("damage", units::one(), &AfterContact::damage);
  timing.window = window_of(study, timing);
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
  for (double& depth : curves.bath_molten_m.value) depth *= mm_per_m;
  timing.bath_molten = curve("softened from each face", std::move(curves.bath_molten_m), 0.0);
  timing.skin_damage = curve("burn damage", std::move(curves.skin_damage), 0.0);
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
          .edge_reach = none,
          .bath_scald = none,
          .palm_scald = none,
          .drivers = {},
          .bath_middle = {},
          .sheet_surface = {},
          .crystallinity = {},
          .skin_basal = {},
          .bath_molten = {},
          .skin_damage = {}};
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
  }
  return timing;
}

}  // namespace warmsheet::heat
