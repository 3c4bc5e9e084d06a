// SPDX-License-Identifier: MIT
// Body measures of whole populations, all of them together: a long forearm goes with a long hand, and sizes
// drawn one by one would give outlines that nobody has.
#pragma once

#include <string>
#include <vector>

#include "base/figure.h"
#include "library/library.h"
#include "nesting/random.h"
#include "outline/outline.h"
#include "outline/survey.h"
#include "stock/caseload.h"

namespace warmsheet::stock {

/// One adult: normal with the survey's means, spreads and correlations. Values beyond three standard
/// deviations are drawn in to three, since nobody beyond was found.
outline::SurveyRow draw_adult(nesting::Random& random, bool woman);
/// One child of this age in years: the age group's means and spreads, correlated as adults are.
outline::SurveyRow draw_child(nesting::Random& random, bool girl, double age_yr);
/// Whoever comes next.
outline::SurveyRow draw_person(nesting::Random& random, const People& people);

/// The measures a design asks for. One the surveys did not take follows the nearest one that they did, in
/// proportion, from the adult value of the library. `rests_on` are the figures behind it.
outline::Measures measures_of(const outline::SurveyRow& person, const std::vector<std::string>& wanted,
                              const library::Library& library, const std::vector<Figure>& rests_on);

/// The figures that a drawn size rests on: the survey, and the people it was drawn for.
std::vector<Figure> behind_sizes(const People& people);

}  // namespace warmsheet::stock
