// SPDX-License-Identifier: MIT
#include "plan/practice.h"

#include <algorithm>
#include <cmath>

namespace warmsheet::plan {
namespace {

/// Practice figures are given for nominal thicknesses; a sheet within a tenth of one counts as that one.
constexpr double same_thickness_share = 0.1;

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

bool usual_bath(const heat::Situation& situation) {
  const Figure& usual = situation.sheet->practice.bath;
  return situation.bath.si() >= usual.low_si() && situation.bath.si() <= usual.high_si();
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

std::vector<PracticeComparison> compare_with_practice(const heat::Situation& situation,
                                                      const heat::Timing& timing) {
  const library::PracticeTimes* times = usual_bath(situation) ? practice_for(situation) : nullptr;
  const Finding none = Finding::absent(usual_bath(situation) ? "none in the library for this thickness"
                                                             : "known for the sheet's usual bath only");
  const Finding heating = times != nullptr ? times->heating : none;
  const Finding working = times != nullptr ? times->working : none;
  return {{"time in the bath", timing.ready, heating, verdict(timing.ready, heating)},
          {"mouldable after lifting", timing.closes, working, verdict(timing.closes, working)}};
}

}  // namespace warmsheet::plan
