// SPDX-License-Identifier: MIT
// Body measures of whole populations, all of them together: a long forearm goes with a long hand, and sizes
// drawn one by one would give outlines that nobody has.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/figure.h"
#include "library/library.h"
#include "nesting/random.h"
#include "outline/outline.h"
#include "stock/caseload.h"

namespace warmsheet::stock {

/// What the surveys took.
enum class Taken {
  hand_length,
  palm_length,
  hand_breadth,
  hand_girth,
  wrist_girth,
  forearm_girth,
  radius_length
};
inline constexpr std::size_t taken_count = 7;
using TakenValues = std::array<double, taken_count>;  ///< mm

/// Mean, standard deviation and correlations of one sex.
struct Survey {
  TakenValues mean_mm;
  TakenValues sd_mm;
  std::array<std::array<double, taken_count>, taken_count> correlation;
};
const Survey& women();
const Survey& men();

/// One adult: normal with the survey's means, spreads and correlations. Values beyond three standard
/// deviations are drawn in to three, since nobody beyond was found.
TakenValues draw_adult(nesting::Random& random, bool woman);
/// One child of this age in years: the age group's means and spreads, correlated as adults are.
TakenValues draw_child(nesting::Random& random, bool girl, double age_yr);
/// Whoever comes next.
TakenValues draw_person(nesting::Random& random, const People& people);

/// The measures a design asks for. One the surveys did not take follows the nearest one that they did, in
/// proportion, from the adult value of the library. `rests_on` are the figures behind it.
outline::Measures measures_of(const TakenValues& person, const std::vector<std::string>& wanted,
                              const library::Library& library, const std::vector<Figure>& rests_on);

/// The figures that a drawn size rests on: the survey, and the people it was drawn for.
std::vector<Figure> behind_sizes(const People& people);

}  // namespace warmsheet::stock
