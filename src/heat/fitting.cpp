// SPDX-License-Identifier: MIT
#include "heat/fitting.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlopt.hpp>
#include <numeric>
#include <optional>
#include <utility>

#include "heat/air_run.h"
#include "heat/bath.h"
#include "heat/chain.h"
#include "heat/inputs.h"

namespace warmsheet::heat::fitting {
namespace {

/// From memory: a person's reaction to a change that comes on slowly, and how far two people's "half soft" or
/// "stiff" differ for the same strip.
constexpr double reaction_s = 1.0;
constexpr double judged_share = 0.07;
/// From memory: a cheap infrared or contact thermometer on plastic.
constexpr double thermometer_K = 1.5;

/// Judgement, no source: notes tell a constant if they narrow what the library knew of it by a fifth or more.
constexpr double told_narrowing = 0.8;
/// In the logarithm: far finer than any error that readings leave.
constexpr double search_tolerance = 1e-5;
constexpr int most_evaluations = 600;
/// In the logarithm: wide against the search's tolerance, narrow against the errors.
constexpr double difference_step = 0.02;

/// A value for each constant.
using Each = std::array<double, constant_count>;
using Matrix = std::array<Each, constant_count>;

double time_error_s(double time_s) {
  return std::hypot(reaction_s, judged_share * time_s);
}

/// What the library knew of each constant's logarithm before the notes.
struct Known {
  Each logs{};
  Each errors{};

  explicit Known(const Situation& situation) {
    for (std::size_t c = 0; c < constant_count; ++c) {
      const Figure& before = constants[c].figure(situation);
      logs[c] = std::log(before.si());
      errors[c] = error_of(before);
    }
  }

  static double error_of(const Figure& before) {
    // A figure of the bench may come from these very notes: they must not count twice.
    constexpr double factor_two = 0.69;
    constexpr double least = 0.02;
    if (before.basis() == Basis::bench) return factor_two;
    return std::max(least, std::log(before.high_si() / before.low_si()) / (2.0 * bound_sd));
  }

  /// In squared standard errors.
  [[nodiscard]] double surprise(const std::vector<std::size_t>& fitted, const Values& at) const {
    double sum = 0.0;
    for (std::size_t k = 0; k < fitted.size(); ++k) {
      const double moved = (at[k] - logs[fitted[k]]) / errors[fitted[k]];
      sum += moved * moved;
    }
    return sum;
  }
};

/// What the search minimises, in the form its library calls it.
struct Objective {
  const Model& model;
  const std::vector<Reading>& readings;
  const Known& known;
  std::vector<std::size_t> fitted;

  [[nodiscard]] double at(const Values& logs) const {
    return sum_of_squares(readings, model.predict(fitted, logs)) + known.surprise(fitted, logs);
  }
  static double value(const Values& logs, Values&, void* self) {
    return static_cast<const Objective*>(self)->at(logs);
  }
};

Values search(Objective& objective) {
  nlopt::opt optimiser(nlopt::LN_NELDERMEAD, static_cast<unsigned>(objective.fitted.size()));
  Values low;
  Values high;
  Values at;
  for (const std::size_t k : objective.fitted) {
    low.push_back(std::log(constants[k].low_si));
    high.push_back(std::log(constants[k].high_si));
    at.push_back(std::clamp(objective.known.logs[k], low.back(), high.back()));
  }
  optimiser.set_lower_bounds(low);
  optimiser.set_upper_bounds(high);
  optimiser.set_initial_step(Values(at.size(), std::log(1.3)));
  optimiser.set_xtol_abs(search_tolerance);
  optimiser.set_maxeval(most_evaluations);
  optimiser.set_min_objective(Objective::value, &objective);
  double least = 0.0;
  optimiser.optimize(at, least);
  return at;
}

/// What the readings tell of all constants at once: the weighted Jacobian's normal matrix, by central
/// differences.
Matrix told_by_readings(const Objective& objective, const Values& logs) {
  std::array<Values, constant_count> slopes;
  for (std::size_t k = 0; k < constant_count; ++k) {
    Values up = logs;
    Values down = logs;
    up[k] += difference_step;
    down[k] -= difference_step;
    const Values above = objective.model.predict(objective.fitted, up);
    const Values below = objective.model.predict(objective.fitted, down);
    for (std::size_t i = 0; i < above.size(); ++i)
      slopes[k].push_back((above[i] - below[i]) / (2.0 * difference_step * objective.readings[i].error));
  }
  Matrix normal{};
  for (std::size_t a = 0; a < constant_count; ++a)
    for (std::size_t b = 0; b < constant_count; ++b)
      normal[a][b] = std::inner_product(slopes[a].begin(), slopes[a].end(), slopes[b].begin(), 0.0);
  return normal;
}

/// Standard errors of the logs once what the readings tell, their squared errors taken `scale` times, is
/// added to what was known: square roots of the diagonal of the inverse, by cofactors.
Each errors_after(const Matrix& told, const Known& known, double scale) {
  Matrix m = told;
  for (std::size_t a = 0; a < constant_count; ++a) {
    for (double& entry : m[a]) entry /= scale;
    m[a][a] += 1.0 / (known.errors[a] * known.errors[a]);
  }
  const auto cofactor = [&](std::size_t a, std::size_t b) {
    const std::size_t r = (a + 1) % constant_count, s = (a + 2) % constant_count;
    const std::size_t u = (b + 1) % constant_count, v = (b + 2) % constant_count;
    return m[r][u] * m[s][v] - m[r][v] * m[s][u];
  };
  const double whole = m[0][0] * cofactor(0, 0) + m[0][1] * cofactor(0, 1) + m[0][2] * cofactor(0, 2);
  Each errors{};
  for (std::size_t c = 0; c < constant_count; ++c) errors[c] = std::sqrt(cofactor(c, c) / whole);
  return errors;
}

/// How much larger than stated the squared errors of the readings are, from how far the model misses them.
double error_scale(double misfit, std::size_t readings, const Matrix& told, const Known& known) {
  double freedom = static_cast<double>(readings);
  const Each errors = errors_after(told, known, 1.0);
  for (std::size_t c = 0; c < constant_count; ++c)
    freedom -= 1.0 - std::pow(errors[c] / known.errors[c], 2.0);
  // Notes that agree better than their errors say are luck, not knowledge.
  return std::max(1.0, misfit / freedom);
}

/// Empty if the notes tell it.
std::string why_untold(std::size_t c, const Matrix& told, const Known& known, double scale) {
  const auto narrowed = [&](double error) { return error <= told_narrowing * known.errors[c]; };
  if (narrowed(errors_after(told, known, scale)[c])) return "";
  if (narrowed(errors_after(told, known, 1.0)[c]))
    return "the model does not meet these notes; look for a slip, or time another strip";
  const double if_others_were_known = 1.0 / std::sqrt(told[c][c] + 1.0 / (known.errors[c] * known.errors[c]));
  if (narrowed(if_others_were_known))
    return "these notes do not tell it apart from the other constants; add the times of a strip of another "
           "thickness, in the bath and on the rack";
  return fmt::format("these notes say less of it than the library; note {}", constants[c].told_by);
}

[[noreturn]] void refuse_untold(const Reasons& reasons) {
  std::string why;
  for (std::size_t c = 0; c < constant_count; ++c)
    why += fmt::format("{} {}: {}", c == 0 ? ":" : ";", constants[c].name, reasons[c]);
  throw Failure(
      {Trouble::no_answer,
       {},
       "these notes determine none of the constants" + why,
       "look for a slip; note ready times of two thicknesses or baths, and set times of a strip left "
       "on the rack"});
}

/// A slip in one reading bends the constants that the others were to tell, some of them to the unsafe side.
void require_met(const std::vector<Reading>& readings, const Values& predicted) {
  // Of two honest readings this is the chance of one time in 500 (chi-square), of more of them less.
  constexpr double largest_misfit = 2.5;
  const double misfit = std::sqrt(sum_of_squares(readings, predicted) / static_cast<double>(readings.size()));
  if (misfit <= largest_misfit) return;
  const auto miss = [&](std::size_t i) {
    return std::abs(predicted[i] - readings[i].observed.si()) / readings[i].error;
  };
  std::size_t worst = 0;
  for (std::size_t i = 1; i < readings.size(); ++i)
    if (miss(i) > miss(worst)) worst = i;
  throw Failure(
      {Trouble::no_answer,
       {},
       fmt::format("the model misses these notes by {:.1f} standard errors of a reading, whatever its "
                   "constants; the most by \"{}\" of \"{}\"",
                   misfit, readings[worst].what, readings[worst].note->id),
       "look for a slip there: the time, the strip's thickness, the thermometer, the state of the bath; "
       "or time another strip"});
}

void predict_note(const BenchNote& note, const Case& c, Values& values) {
  if (note.half_soft || note.ready) {
    const BathRun bath = run_bath(c, longest_run_s);
    if (note.half_soft) values.push_back(bath.half_soft_s.value_or(longest_run_s));
    if (note.ready) values.push_back(bath.ready_s.value_or(longest_run_s));
  }
  if (!note.stiffens && !note.holds_shape && !note.set && note.surface.empty()) return;
  const Bench bench(as_it_sets(c));
  AirRun air(bench);
  const Setting setting = air.setting_until(longest_run_s);
  if (note.stiffens) values.push_back(setting.closes_s.value_or(longest_run_s));
  if (note.holds_shape) values.push_back(setting.holds_s.value_or(longest_run_s));
  if (note.set) values.push_back(setting.set_s.value_or(longest_run_s));
  for (const SurfaceReading& reading : note.surface)
    values.push_back(air.at(reading.at.si()).outer_surface_K);
}

}  // namespace

const std::array<Constant, constant_count> constants{{
    {"film", 40.0, 5000.0, [](Case& c) -> double& { return c.bath.film_W_m2K; },
     [](const Situation& s) -> const Figure& { return s.film; }, "half_soft and ready"},
    {"half_time_42", 5.0, 7200.0, [](Case& c) -> double& { return c.sheet.kinetics.half_time_42_s; },
     [](const Situation& s) -> const Figure& { return s.sheet->thermal.half_time_42; },
     "stiffens, holds_shape and set of a strip left on the rack"},
    {"latent_heat", 2e3, 250e3, [](Case& c) -> double& { return c.sheet.phases.latent_J_kg; },
     [](const Situation& s) -> const Figure& { return s.sheet->thermal.latent_heat; },
     "half_soft and ready, and set of a strip left on the rack"},
}};

std::vector<Reading> readings_of(const BenchNotes& notes) {
  std::vector<Reading> readings;
  for (const BenchNote& note : notes.notes) {
    const auto add = [&](const char* what, const std::optional<Figure>& time, bool in_bath = false) {
      if (time) readings.push_back({&note, what, *time, time_error_s(time->si()), in_bath});
    };
    add("half_soft", note.half_soft, true);
    add("ready", note.ready, true);
    add("stiffens", note.stiffens);
    add("holds_shape", note.holds_shape);
    add("set", note.set);
    for (const SurfaceReading& reading : note.surface)
      readings.push_back({&note, "surface", reading.temperature, thermometer_K});
  }
  return readings;
}

Model::Model(const BenchNotes& notes) : notes_(notes) {
  for (const BenchNote& note : notes.notes) cases_.push_back(Inputs(note.situation).central());
}

Values Model::predict(const std::vector<std::size_t>& fitted, const Values& logs) const {
  Values values;
  for (std::size_t i = 0; i < cases_.size(); ++i) {
    Case c = cases_[i];
    for (std::size_t k = 0; k < fitted.size(); ++k) constants[fitted[k]].place(c) = std::exp(logs[k]);
    predict_note(notes_.notes[i], c, values);
  }
  return values;
}

double sum_of_squares(const std::vector<Reading>& readings, const Values& predicted) {
  double sum = 0.0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double miss = (predicted[i] - readings[i].observed.si()) / readings[i].error;
    sum += miss * miss;
  }
  return sum;
}

Fit fit(const Model& model, const std::vector<Reading>& readings, const Situation& situation,
        Reasons& reasons) {
  const Known known(situation);
  Objective objective{model, readings, known, {0, 1, 2}};
  const Values all = search(objective);
  const Matrix told = told_by_readings(objective, all);
  const double scale = error_scale(sum_of_squares(readings, model.predict(objective.fitted, all)),
                                   readings.size(), told, known);
  const Each errors = errors_after(told, known, scale);
  objective.fitted.clear();
  Fit found;
  for (std::size_t c = 0; c < constant_count; ++c) {
    reasons[c] = why_untold(c, told, known, scale);
    if (!reasons[c].empty()) continue;
    objective.fitted.push_back(c);
    found.errors.push_back(errors[c]);
  }
  if (objective.fitted.empty()) refuse_untold(reasons);
  found.logs = search(objective);
  require_met(readings, model.predict(objective.fitted, found.logs));
  found.fitted = objective.fitted;
  return found;
}

}  // namespace warmsheet::heat::fitting
