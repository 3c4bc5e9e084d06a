// SPDX-License-Identifier: MIT
#include "heat/calibration.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/strict_toml.h"
#include "heat/fitting.h"
#include "heat/inputs.h"

namespace warmsheet::heat {
namespace {

using namespace fitting;

Figure fitted_figure(const Constant& constant, const Figure& before, const Fit& fit, std::size_t k) {
  const double spread = std::exp(bound_sd * fit.errors[k]);
  const double value = std::exp(fit.logs[k]);
  return Figure::stated(
      constant.name, {value, value / spread, value * spread}, before.unit(),
      {.basis = Basis::bench, .where = "bench notes, weighed with the range it had before"});
}

std::vector<FittedConstant> report_constants(const BenchNotes& notes, const Fit& fit,
                                             const Reasons& reasons) {
  std::vector<FittedConstant> reported;
  for (std::size_t c = 0; c < constants.size(); ++c) {
    const Figure& before = constants[c].figure(notes.notes.front().situation);
    const auto at = std::find(fit.fitted.begin(), fit.fitted.end(), c);
    const Finding after = at == fit.fitted.end()
                              ? Finding::absent(reasons[c])
                              : Finding(fitted_figure(constants[c], before, fit,
                                                      static_cast<std::size_t>(at - fit.fitted.begin())));
    reported.push_back({constants[c].name, before, after});
  }
  return reported;
}

/// Figures of a limb: a test strip lies on a table.
bool of_a_limb(const Figure& figure, const Situation& s) {
  std::vector<Figure> limb{
      s.surroundings->contact_resistance, s.skin->peak_limit,         s.skin->damage_limit,
      s.tissue->surface_temperature,      s.tissue->core_temperature, s.tissue->blood_density,
      s.tissue->blood_specific_heat,      s.tissue->damage_factor,    s.tissue->damage_activation,
      s.tissue->damage_threshold};
  for (const library::SkinLayer& layer : s.skin->layers)
    limb.insert(limb.end(),
                {layer.thickness, layer.conductivity, layer.density, layer.specific_heat, layer.perfusion});
  return std::any_of(limb.begin(), limb.end(), [&](const Figure& f) { return f.same_node(figure); });
}

/// What the model's value of a reading rests on, with these in place of the library's constants.
std::vector<Figure> behind(const Reading& reading, const std::vector<FittedConstant>& fitted) {
  const Situation& situation = reading.note->situation;
  std::vector<Figure> found;
  const unsigned parts =
      reading.in_bath ? static_cast<unsigned>(Part::heating) : Part::after_bath | Part::setting;
  for (Figure& figure : Inputs(situation).figures(parts))
    if (!of_a_limb(figure, situation)) found.push_back(std::move(figure));
  for (std::size_t c = 0; c < fitted.size(); ++c)
    for (Figure& figure : found)
      if (fitted[c].after.known() && figure.same_node(constants[c].figure(situation)))
        figure = fitted[c].after.figure();
  return found;
}

Figure modelled(const Reading& reading, double si, const char* how,
                const std::vector<FittedConstant>& fitted) {
  return Figure::derived(reading.what, Range::exactly(si), reading.observed.unit(), how,
                         behind(reading, fitted));
}

Figure misfit(const char* name, const std::vector<Reading>& readings, const Values& predicted) {
  std::vector<Figure> observed;
  for (const Reading& reading : readings) observed.push_back(reading.observed);
  const double mean = sum_of_squares(readings, predicted) / static_cast<double>(readings.size());
  return Figure::derived(name, Range::exactly(std::sqrt(mean)), units::one(),
                         "root mean square miss, in standard errors of a reading", std::move(observed));
}

/// Begins every file of a calibration, those of earlier versions too.
constexpr const char* calibrated_mark = "# Written by warmsheet calibrate";
constexpr const char* calibrated_head =
    "# Written by warmsheet calibrate, which writes over it again as long as it holds nothing else.";

bool fits_only(const toml::Value& value) {
  constexpr std::array written_keys{"id", "thermal", "half_time_42", "latent_heat", "bath_state", "film"};
  if (value.array() != nullptr) return std::all_of(value.array()->begin(), value.array()->end(), fits_only);
  if (value.table() == nullptr || value.table()->contains("value")) return true;
  return std::all_of(value.table()->begin(), value.table()->end(), [&](const auto& entry) {
    return std::find(written_keys.begin(), written_keys.end(), entry.first) != written_keys.end() &&
           fits_only(entry.second);
  });
}

std::string toml_line(const char* key, const Figure& figure) {
  return fmt::format(
      "{} = {{ value = {:.6g}, low = {:.6g}, high = {:.6g}, unit = \"{}\", basis = \"bench\" }}\n", key,
      figure.value(), figure.low(), figure.high(), figure.unit().id);
}

/// A figure that the bench told before; nothing for one of the library's own.
std::string kept(const char* key, const Figure& figure) {
  return figure.basis() == Basis::bench ? toml_line(key, figure) : "";
}

std::string written(const Calibration& calibration, const char* key, const Figure& already) {
  for (const FittedConstant& constant : calibration.constants)
    if (constant.name == key && constant.after.known()) return toml_line(key, constant.after.figure());
  return kept(key, already);
}

}  // namespace

Calibration calibrate(const BenchNotes& notes) {
  const std::vector<Reading> readings = readings_of(notes);
  const Model model(notes);
  Reasons reasons;
  const Fit fit = fitting::fit(model, readings, notes.notes.front().situation, reasons);
  std::vector<FittedConstant> fitted = report_constants(notes, fit, reasons);
  const Values before = model.predict({}, {});
  const Values after = model.predict(fit.fitted, fit.logs);
  std::vector<Residual> residuals;
  for (std::size_t i = 0; i < readings.size(); ++i)
    residuals.push_back({readings[i].note->id, readings[i].what, readings[i].observed,
                         modelled(readings[i], before[i], "the model with the library's constants", {}),
                         modelled(readings[i], after[i], "the model with the fitted constants", fitted)});
  return {notes.sheet,
          notes.bath_state,
          std::move(fitted),
          std::move(residuals),
          misfit("misfit_before", readings, before),
          misfit("misfit_after", readings, after)};
}

bool holds_fits_only(std::string_view text) {
  return text.starts_with(calibrated_mark) && fits_only(toml::parse(text, ""));
}

std::vector<CalibratedFile> calibrated_files(const Calibration& calibration,
                                             const library::Library& already) {
  const library::Thermal& thermal = already.sheet(calibration.sheet).thermal;
  const std::string sheet_lines = written(calibration, "half_time_42", thermal.half_time_42) +
                                  written(calibration, "latent_heat", thermal.latent_heat);
  std::string bath_lines;
  for (const auto& [id, state] : already.surroundings.bath_states) {
    const std::string line =
        id == calibration.bath_state ? written(calibration, "film", state.film) : kept("film", state.film);
    if (!line.empty()) bath_lines += fmt::format("[[bath_state]]\nid = \"{}\"\n{}\n", id, line);
  }
  std::vector<CalibratedFile> files;
  if (!sheet_lines.empty())
    files.push_back(
        {"sheets/" + calibration.sheet + ".toml",
         fmt::format("{}\nid = \"{}\"\n\n[thermal]\n{}", calibrated_head, calibration.sheet, sheet_lines)});
  if (!bath_lines.empty())
    files.push_back({"surroundings.toml", fmt::format("{}\n{}", calibrated_head, bath_lines)});
  return files;
}

}  // namespace warmsheet::heat
