// SPDX-License-Identifier: MIT
// How hand and arm sizes of adults spread, all of them together.
//
// Gordon et al. 2014, 2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007: means, standard
// deviations and correlations computed from the public individual records (1986 women, 4082 men). Its
// skewness is 0.14 to 0.34, so normal numbers are fair between the 5 % and 95 % bounds. Serving soldiers are
// not patients: thinner, stronger and without swelling.
#pragma once

#include <array>
#include <cstddef>

namespace warmsheet::outline {

/// What the survey took. The forearm's girth is its largest, with the fist clenched; `radius` runs from the
/// radial head to the radial styloid.
enum Surveyed : std::size_t { hand, palm, breadth, girth, wrist, forearm, radius, surveyed_count };
using SurveyRow = std::array<double, surveyed_count>;

struct Survey {
  SurveyRow mean_mm;
  SurveyRow sd_mm;
  std::array<SurveyRow, surveyed_count> correlation;  ///< lower triangle
  std::array<SurveyRow, surveyed_count> factor;       ///< Cholesky's, of the correlation

  /// How far a person made of independent standard normal numbers stands from the means, in standard
  /// deviations.
  [[nodiscard]] SurveyRow deviations(const SurveyRow& independent) const;
  /// That person.
  [[nodiscard]] SurveyRow person_mm(const SurveyRow& independent) const;
};

const Survey& women_surveyed();
const Survey& men_surveyed();

}  // namespace warmsheet::outline
