// SPDX-License-Identifier: MIT
#include "heat/fitting.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlopt.hpp>
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

/// In the logarithm: a constant known to no better than a factor of about 1.5 either way adds nothing to the
/// library.
constexpr double undetermined_error = 0.4;
constexpr double search_tolerance = 1e-5;
constexpr int most_evaluations = 600;
constexpr double difference_step = 0.02;
constexpr double at_bound_share = 0.01;

double time_error_s(double time_s) {
  return std::hypot(reaction_s, judged_share * time_s);
}

/// What the search minimises, in the form its library calls it.
struct Objective {
  const Model* model;
  const std::vector<Reading>* readings;
  const std::vector<std::size_t>* fitted;

  static double value(const Values& logs, Values&, void* self) {
    const auto& o = *static_cast<const Objective*>(self);
    return sum_of_squares(*o.readings, o.model->predict(*o.fitted, logs));
  }
};

Values search(const Model& model, const std::vector<Reading>& readings,
              const std::vector<std::size_t>& fitted) {
  nlopt::opt optimiser(nlopt::LN_NELDERMEAD, static_cast<unsigned>(fitted.size()));
  Values low;
  Values high;
  Values at;
  for (const std::size_t k : fitted) {
    low.push_back(std::log(constants[k].low_si));
    high.push_back(std::log(constants[k].high_si));
    at.push_back(std::clamp(model.start(k), low.back(), high.back()));
  }
  optimiser.set_lower_bounds(low);
  optimiser.set_upper_bounds(high);
  optimiser.set_initial_step(Values(fitted.size(), std::log(1.3)));
  optimiser.set_xtol_abs(search_tolerance);
  optimiser.set_maxeval(most_evaluations);
  Objective objective{&model, &readings, &fitted};
  optimiser.set_min_objective(Objective::value, &objective);
  double least = 0.0;
  optimiser.optimize(at, least);
  return at;
}

using Matrix = std::vector<Values>;

/// Weighted Jacobian's normal matrix at the optimum, by central differences.
Matrix normal_matrix(const Model& model, const std::vector<Reading>& readings, const Fit& fit) {
  const std::size_t n = fit.fitted.size();
  Matrix slopes(n);
  for (std::size_t k = 0; k < n; ++k) {
    Values up = fit.logs;
    Values down = fit.logs;
    up[k] += difference_step;
    down[k] -= difference_step;
    const Values above = model.predict(fit.fitted, up);
    const Values below = model.predict(fit.fitted, down);
    for (std::size_t i = 0; i < readings.size(); ++i)
      slopes[k].push_back((above[i] - below[i]) / (2.0 * difference_step * readings[i].error));
  }
  Matrix normal(n, Values(n, 0.0));
  for (std::size_t a = 0; a < n; ++a)
    for (std::size_t b = 0; b < n; ++b)
      for (std::size_t i = 0; i < readings.size(); ++i) normal[a][b] += slopes[a][i] * slopes[b][i];
  return normal;
}

double determinant(const Matrix& m) {
  if (m.size() == 1) return m[0][0];
  if (m.size() == 2) return m[0][0] * m[1][1] - m[0][1] * m[1][0];
  return m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) -
         m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0]) +
         m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0]);
}

Matrix without(const Matrix& m, std::size_t row) {
  Matrix smaller;
  for (std::size_t i = 0; i < m.size(); ++i) {
    if (i == row) continue;
    Values kept;
    for (std::size_t j = 0; j < m.size(); ++j)
      if (j != row) kept.push_back(m[i][j]);
    smaller.push_back(std::move(kept));
  }
  return smaller;
}

/// Square roots of the diagonal of the inverse; infinite where the notes leave a direction open.
Values standard_errors(const Matrix& normal, double scale) {
  const double infinite = std::numeric_limits<double>::infinity();
  // A constant that the notes would not tell even if all others were known leaves the others as they are.
  for (std::size_t k = 0; k < normal.size(); ++k) {
    if (normal[k][k] * undetermined_error * undetermined_error > scale) continue;
    Values errors = normal.size() == 1 ? Values{} : standard_errors(without(normal, k), scale);
    errors.insert(errors.begin() + static_cast<std::ptrdiff_t>(k), infinite);
    return errors;
  }
  // Relative to the product of the diagonal: below this the columns are parallel to rounding.
  constexpr double open_direction = 1e-9;
  double product = 1.0;
  for (std::size_t i = 0; i < normal.size(); ++i) product *= normal[i][i];
  const double whole = determinant(normal);
  Values errors;
  for (std::size_t k = 0; k < normal.size(); ++k) {
    const double minor = normal.size() == 1 ? 1.0 : determinant(without(normal, k));
    const bool open = !(whole > open_direction * product) || !(product > 0.0);
    errors.push_back(open ? infinite : std::sqrt(scale * minor / whole));
  }
  return errors;
}

Fit fit_constants(const Model& model, const std::vector<Reading>& readings, std::vector<std::size_t> fitted) {
  Fit fit{std::move(fitted), {}, {}};
  fit.logs = search(model, readings, fit.fitted);
  fit.misfit = sum_of_squares(readings, model.predict(fit.fitted, fit.logs));
  const double freedom = static_cast<double>(readings.size()) - static_cast<double>(fit.fitted.size());
  // Notes that agree better than their errors say are luck, not knowledge.
  fit.scale = freedom > 0.0 ? std::max(1.0, fit.misfit / freedom) : 1.0;
  const Matrix normal = normal_matrix(model, readings, fit);
  fit.errors = standard_errors(normal, fit.scale);
  for (std::size_t k = 0; k < normal.size(); ++k) fit.alone.push_back(std::sqrt(1.0 / normal[k][k]));
  return fit;
}

constexpr const char* entangled =
    "these notes do not tell it apart from the other constants; add the times of a strip of another "
    "thickness, in the bath and on the table";

std::string why_open(const Fit& fit, std::size_t k) {
  const Constant& constant = constants[fit.fitted[k]];
  const double span = std::log(constant.high_si / constant.low_si);
  const bool at_bound = fit.logs[k] < std::log(constant.low_si) + at_bound_share * span ||
                        fit.logs[k] > std::log(constant.high_si) - at_bound_share * span;
  if (at_bound) return "the notes push it out of all bounds; look for a slip in them";
  if (!(fit.alone[k] <= undetermined_error))
    return fmt::format("these notes hardly depend on it; note {}", constant.told_by);
  if (!(fit.alone[k] * std::sqrt(fit.scale) <= undetermined_error))
    return "with it the model does not meet these notes; look for a slip, or time another strip";
  return fit.errors[k] > undetermined_error ? entangled : "";
}

/// How far a fit leaves the readings and what the library knew of its constants, in squared standard errors:
/// of two ways to explain the same notes, the one that asks for less surprise.
double strain(const Fit& fit, const Situation& situation) {
  constexpr double least_sd = 0.02;
  double sum = fit.misfit;
  for (std::size_t k = 0; k < fit.fitted.size(); ++k) {
    const Figure& before = constants[fit.fitted[k]].figure(situation);
    const double sd = std::log(before.high_si() / before.low_si()) / (2.0 * bound_sd);
    const double moved = (fit.logs[k] - std::log(before.si())) / std::max(sd, least_sd);
    sum += moved * moved + constants[fit.fitted[k]].reluctance;
  }
  return sum;
}

/// All choices of so many constants.
std::vector<std::vector<std::size_t>> choices(std::size_t count) {
  std::vector<std::vector<std::size_t>> all;
  for (unsigned mask = 1; mask < 1U << constants.size(); ++mask) {
    std::vector<std::size_t> chosen;
    for (std::size_t c = 0; c < constants.size(); ++c)
      if ((mask >> c & 1U) != 0) chosen.push_back(c);
    if (chosen.size() == count) all.push_back(std::move(chosen));
  }
  return all;
}

/// True if it determines all its constants; else the reasons of those that it does not are kept.
bool is_determined(const Fit& fit, Reasons& reasons) {
  bool all = true;
  for (std::size_t k = 0; k < fit.fitted.size(); ++k) {
    const std::string why = why_open(fit, k);
    if (why.empty()) continue;
    reasons[fit.fitted[k]] = why;
    all = false;
  }
  return all;
}

[[noreturn]] void refuse_undetermined(const Reasons& reasons) {
  std::string why;
  for (std::size_t c = 0; c < constants.size(); ++c)
    why += fmt::format("{} {}: {}", c == 0 ? ":" : ";", constants[c].name, reasons[c]);
  throw Failure(
      {Trouble::no_answer,
       {},
       "these notes determine none of the constants" + why,
       "look for a slip; note ready times of two thicknesses or baths, and set times of a strip left "
       "on the table"});
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

/// Baths differ from bench to bench and setting from batch to batch, the heat of melting is the polymer's
/// own: it is the last to be doubted (two standard errors; judgement, no source).
static constexpr double latent_reluctance = 4.0;

const std::array<Constant, 3> constants{{
    {"film", 40.0, 5000.0, [](Case& c) -> double& { return c.bath.film_W_m2K; },
     [](const Situation& s) -> const Figure& { return s.film; }, "half_soft and ready", 0.0},
    {"half_time_42", 5.0, 7200.0, [](Case& c) -> double& { return c.sheet.kinetics.half_time_42_s; },
     [](const Situation& s) -> const Figure& { return s.sheet->thermal.half_time_42; },
     "stiffens, holds_shape and set of a strip left on the table", 0.0},
    {"latent_heat", 2e3, 250e3, [](Case& c) -> double& { return c.sheet.phases.latent_J_kg; },
     [](const Situation& s) -> const Figure& { return s.sheet->thermal.latent_heat; },
     "half_soft and ready, and set of a strip left on the table", latent_reluctance},
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

double Model::start(std::size_t constant) const {
  Case c = cases_.front();
  return std::log(constants[constant].place(c));
}

double sum_of_squares(const std::vector<Reading>& readings, const Values& predicted) {
  double sum = 0.0;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const double miss = (predicted[i] - readings[i].observed.si()) / readings[i].error;
    sum += miss * miss;
  }
  return sum;
}

Fit determined(const Model& model, const std::vector<Reading>& readings, const Situation& situation,
               Reasons& reasons) {
  reasons.fill(entangled);
  for (std::size_t count = std::min(constants.size(), readings.size()); count > 0; --count) {
    std::optional<Fit> best;
    for (const std::vector<std::size_t>& chosen : choices(count)) {
      Fit fit = fit_constants(model, readings, chosen);
      if (!is_determined(fit, reasons)) continue;
      if (!best || strain(fit, situation) < strain(*best, situation)) best = std::move(fit);
    }
    if (best) return *best;
  }
  refuse_undetermined(reasons);
}

}  // namespace warmsheet::heat::fitting
