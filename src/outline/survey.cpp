// SPDX-License-Identifier: MIT
#include "outline/survey.h"

#include <cmath>

namespace warmsheet::outline {
namespace {

using Triangle = std::array<SurveyRow, surveyed_count>;

/// Cholesky's factor: L z has the correlation if the z are independent.
Triangle factor_of(const Triangle& correlation) {
  Triangle l{};
  for (std::size_t i = 0; i < surveyed_count; ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      double rest = correlation[i][j];
      for (std::size_t k = 0; k < j; ++k) rest -= l[i][k] * l[j][k];
      l[i][j] = i == j ? std::sqrt(rest) : rest / l[j][j];
    }
  return l;
}

Survey surveyed(const SurveyRow& mean_mm, const SurveyRow& sd_mm, const Triangle& correlation) {
  return {mean_mm, sd_mm, correlation, factor_of(correlation)};
}

}  // namespace

SurveyRow Survey::deviations(const SurveyRow& independent) const {
  SurveyRow correlated{};
  for (std::size_t i = 0; i < surveyed_count; ++i)
    for (std::size_t j = 0; j <= i; ++j) correlated[i] += factor[i][j] * independent[j];
  return correlated;
}

SurveyRow Survey::person_mm(const SurveyRow& independent) const {
  const SurveyRow away = deviations(independent);
  SurveyRow made = mean_mm;
  for (std::size_t i = 0; i < surveyed_count; ++i) made[i] += sd_mm[i] * away[i];
  return made;
}

const Survey& women_surveyed() {
  static const Survey survey = surveyed({181.08, 108.70, 78.15, 186.55, 154.79, 264.08, 241.33},
                                        {10.06, 5.94, 3.84, 8.82, 7.83, 18.52, 15.24},
                                        {{{1.0},
                                          {0.839, 1.0},
                                          {0.570, 0.498, 1.0},
                                          {0.562, 0.505, 0.893, 1.0},
                                          {0.538, 0.498, 0.669, 0.737, 1.0},
                                          {0.415, 0.389, 0.509, 0.579, 0.739, 1.0},
                                          {0.688, 0.656, 0.433, 0.443, 0.435, 0.354, 1.0}}});
  return survey;
}

const Survey& men_surveyed() {
  static const Survey survey = surveyed({193.28, 116.46, 88.26, 212.28, 175.92, 310.06, 267.88},
                                        {9.95, 6.23, 4.39, 10.24, 8.96, 21.99, 15.42},
                                        {{{1.0},
                                          {0.795, 1.0},
                                          {0.582, 0.477, 1.0},
                                          {0.590, 0.501, 0.922, 1.0},
                                          {0.545, 0.469, 0.713, 0.772, 1.0},
                                          {0.392, 0.376, 0.568, 0.641, 0.724, 1.0},
                                          {0.674, 0.610, 0.373, 0.372, 0.371, 0.253, 1.0}}});
  return survey;
}

}  // namespace warmsheet::outline
