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

/// One curve, with the weakest figure under it told below.
Plot plot_of(const char* id, const char* title, const char* description, const char* x_label,
             const char* y_label, const heat::Curve& shown, const Finding& weakest) {
  return {.id = id,
          .title = title,
          .description = description,
          .x_label = x_label,
          .y_label = y_label,
          .curves = {curve(shown)},
          .marks = {},
          .spans = {},
          .basis_note = basis_note(weakest)};
}

constexpr const char* since_immersion = "seconds after immersion";
constexpr const char* since_contact = "seconds after contact";

Plot with_softening(Plot plot, const heat::Timing& timing) {
  mark(plot, timing.half_soft, "half soft");
  mark(plot, timing.ready, "ready");
  return plot;
}

Plot bath_plot(const heat::Timing& timing) {
  return with_softening(
      plot_of("bath-curve", "In the bath",
              "Temperature of the middle of the sheet against time since it was put into the bath; it "
              "lingers in the melting range and then rises to the bath's temperature.",
              since_immersion, "°C", timing.bath_middle, timing.ready),
      timing);
}

Plot front_plot(const heat::Timing& timing) {
  return with_softening(
      plot_of(
          "front-curve", "How deep it is soft",
          "Depth that has melted from each face in the water against time since it was put in; it ends where "
          "the fronts meet in the middle. Where there are holes, it is the share that has melted.",
          since_immersion, "mm", timing.bath_molten, timing.ready),
      timing);
}

Plot cooling_plot(const heat::Timing& timing) {
  Plot plot =
      plot_of("cooling-curve", "After lifting out",
              "Temperature of the sheet's surface against time since it was lifted out of the bath; the "
              "shaded span is the working window, from the first safe touch to the end of shaping.",
              "seconds after lifting", "°C", timing.sheet_surface, timing.closes);
  if (timing.safe_window())
    plot.spans.push_back({timing.wait.figure(), timing.closes.figure(), "working window"});
  mark(plot, timing.holds_shape, "holds shape");
  mark(plot, timing.set, "set");
  return plot;
}

Plot skin_plot(const heat::Timing& timing) {
  return plot_of("skin-curve", "Skin under the sheet",
                 "Temperature at the living layer of the skin against time since the sheet was laid on.",
                 since_contact, "°C", timing.skin_basal, timing.peak_skin);
}

Plot damage_plot(const heat::Timing& timing) {
  return plot_of("damage-curve", "Burn damage under the sheet",
                 "Damage integral at the living layer of the skin against time since the sheet was "
                 "laid on; 0.53 would be a first-degree burn.",
                 since_contact, "damage", timing.skin_damage, timing.damage);
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
