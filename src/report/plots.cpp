// SPDX-License-Identifier: MIT
#include "report/plots.h"

namespace warmsheet::report {
namespace {

Plot::Curve curve(const heat::Curve& from) {
  return {from.name, from.time_s, from.value};
}

void mark(Plot& plot, const Finding& finding, const char* name) {
  if (finding.known()) plot.marks.push_back({finding.figure(), name});
}

Phrase basis_note(const Finding& weakest) {
  return weakest.known() ? say("Curves for the central values; the weakest figure under them is {}.",
                               Label(std::string(basis_word(weakest.figure().basis()))))
                         : Phrase("Curves for the central values.");
}

Plot bath_plot(const heat::Timing& timing) {
  Plot plot{.id = "bath-curve",
            .title = "In the bath",
            .description =
                "Temperature of the middle of the sheet against time since it was put into the bath; it "
                "lingers in the melting range and then rises to the bath's temperature.",
            .x_label = "seconds after immersion",
            .y_label = "°C",
            .curves = {curve(timing.bath_middle)},
            .marks = {},
            .spans = {},
            .basis_note = basis_note(timing.ready)};
  mark(plot, timing.half_soft, "half soft");
  mark(plot, timing.ready, "ready");
  return plot;
}

Plot front_plot(const heat::Timing& timing) {
  Plot plot{.id = "front-curve",
            .title = "How deep it is soft",
            .description =
                "Depth that has melted from each face in the water against time since it was put "
                "in; it ends where the fronts meet in the middle.",
            .x_label = "seconds after immersion",
            .y_label = "mm",
            .curves = {curve(timing.bath_molten)},
            .marks = {},
            .spans = {},
            .basis_note = basis_note(timing.ready)};
  mark(plot, timing.half_soft, "half soft");
  mark(plot, timing.ready, "ready");
  return plot;
}

Plot cooling_plot(const heat::Timing& timing) {
  Plot plot{.id = "cooling-curve",
            .title = "After lifting out",
            .description =
                "Temperature of the sheet's surface against time since it was lifted out of the bath; the "
                "shaded span is the working window, from the first safe touch to the end of shaping.",
            .x_label = "seconds after lifting",
            .y_label = "°C",
            .curves = {curve(timing.sheet_surface)},
            .marks = {},
            .spans = {},
            .basis_note = basis_note(timing.closes)};
  if (timing.safe_window && timing.wait.known() && timing.closes.known())
    plot.spans.push_back({timing.wait.figure(), timing.closes.figure(), "working window"});
  mark(plot, timing.holds_shape, "holds shape");
  mark(plot, timing.set, "set");
  return plot;
}

Plot skin_plot(const heat::Timing& timing) {
  return {
      .id = "skin-curve",
      .title = "Skin under the sheet",
      .description = "Temperature at the living layer of the skin against time since the sheet was laid on.",
      .x_label = "seconds after contact",
      .y_label = "°C",
      .curves = {curve(timing.skin_basal)},
      .marks = {},
      .spans = {},
      .basis_note = basis_note(timing.peak_skin)};
}

Plot damage_plot(const heat::Timing& timing) {
  return {.id = "damage-curve",
          .title = "Burn damage under the sheet",
          .description =
              "Damage integral at the living layer of the skin against time since the sheet was "
              "laid on; 0.53 would be a first-degree burn.",
          .x_label = "seconds after contact",
          .y_label = "damage",
          .curves = {curve(timing.skin_damage)},
          .marks = {},
          .spans = {},
          .basis_note = basis_note(timing.damage)};
}

/// Below the threshold the integral stays 0, and a line along the axis shows nothing.
bool any_damage(const heat::Timing& timing) {
  return !timing.skin_damage.value.empty() && timing.skin_damage.value.back() > 0.0;
}

}  // namespace

std::vector<Plot> timing_plots(const heat::Timing& timing) {
  std::vector<Plot> plots;
  if (!timing.bath_middle.time_s.empty()) plots.push_back(bath_plot(timing));
  if (!timing.bath_molten.time_s.empty()) plots.push_back(front_plot(timing));
  if (!timing.sheet_surface.time_s.empty()) plots.push_back(cooling_plot(timing));
  if (!timing.skin_basal.time_s.empty()) plots.push_back(skin_plot(timing));
  if (any_damage(timing)) plots.push_back(damage_plot(timing));
  return plots;
}

}  // namespace warmsheet::report
