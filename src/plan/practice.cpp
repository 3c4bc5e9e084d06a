// SPDX-License-Identifier: MIT
#include "plan/practice.h"

#include <algorithm>
#include <cmath>

namespace warmsheet::plan {
namespace {

/// Practice figures are given for nominal thicknesses; a sheet within a tenth of one counts as that one.
constexpr double same_thickness_share = 0.1;

constexpr const char* mouldable = "mouldable after lifting";

const library::PracticeTimes* practice_for(const heat::Situation& situation) {
  const std::vector<library::PracticeTimes>& all = situation.sheet->practice.by_thickness;
  const auto miss_m = [&](const library::PracticeTimes& times) {
    return std::abs(situation.thickness.si() - times.thickness.si());
  };
  const auto nearest = std::min_element(all.begin(), all.end(),
                                        [&](const auto& a, const auto& b) { return miss_m(a) < miss_m(b); });
  if (nearest == all.end() || miss_m(*nearest) > same_thickness_share * nearest->thickness.si())
    return nullptr;
  return &*nearest;
}

Phrase verdict(const Finding& model, const Finding& practice) {
  if (!practice.known()) return Phrase("no practice figure to compare with");
  if (!model.known()) return Phrase("the model gives no figure");
  const Figure& m = model.figure();
  const Figure& p = practice.figure();
  if (m.low_si() > p.high_si())
    return Phrase("DISAGREE: the model is longer than practice; time your own bench");
  if (m.high_si() < p.low_si())
    return Phrase("DISAGREE: the model is shorter than practice; time your own bench");
  return Phrase("the ranges meet");
}

}  // namespace

bool usual_bath(const heat::Situation& situation) {
  const Figure& usual = situation.sheet->practice.bath;
  return situation.bath.low_si() >= usual.low_si() && situation.bath.high_si() <= usual.high_si();
}

std::vector<PracticeComparison> compare_with_practice(const heat::Situation& situation,
                                                      const heat::Timing& timing) {
  const library::PracticeTimes* times = usual_bath(situation) ? practice_for(situation) : nullptr;
  const Finding none = Finding::absent(usual_bath(situation) ? "none in the library for this thickness"
                                                             : "known for the sheet's usual bath only");
  const Finding heating = times != nullptr ? times->heating : none;
  const Finding working = times != nullptr ? times->working : none;
  return {{"time in the bath", timing.ready, heating, verdict(timing.ready, heating)},
          {mouldable, timing.closes, working, verdict(timing.closes, working)}};
}

std::vector<Caution> practice_cautions(const std::vector<PracticeComparison>& comparisons,
                                       const heat::Timing& timing, const Figure& form_time) {
  const auto working = std::find_if(comparisons.begin(), comparisons.end(),
                                    [](const PracticeComparison& each) { return each.what == mouldable; });
  if (working == comparisons.end() || !working->practice.known() || !timing.window.known()) return {};
  const Figure& usual = working->practice.figure();
  const Figure& wait = timing.wait.figure();
  const Figure& window = timing.window.figure();
  const double left_s = usual.si() - wait.si();
  if (left_s >= std::min(form_time.si(), window.si())) return {};
  const Phrase left =
      left_s > 0.0
          ? say("the wait of {} leaves less of that than the {} that forming usually takes", wait, form_time)
          : say("the wait of {} leaves nothing of that, and forming usually takes {}", wait, form_time);
  return {{"practice-closes-sooner",
           say("Makers usually find such sheet mouldable for {} after lifting: {}. The window of {} is the "
               "model's; time a strip of your own sheet before you rely on it.",
               usual, left, window)}};
}

}  // namespace warmsheet::plan
