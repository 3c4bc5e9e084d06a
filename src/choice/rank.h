// SPDX-License-Identifier: MIT
// Ranking under uncertainty by stochastic multicriteria acceptability analysis (Lahdelma, Hokkanen and
// Salminen 1998, EJOR 106:137; Lahdelma and Salminen 2001, Operations Research 49:444). Values and weights
// are drawn many times; in each draw the items are ranked by their weighted sum; how often an item takes a
// rank is its rank acceptability. A near tie then looks like one: two items that share the first place in
// half of the draws each, not a winner by a third decimal. Pure numbers: what the criteria are is decided in
// needs.h.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "base/figure.h"
#include "library/library.h"
#include "nesting/random.h"

namespace warmsheet::choice {

/// Values (0 worthless to 1 all that is asked) of every item in every criterion, and the weights, draw by
/// draw.
class Draws {
 public:
  Draws(std::size_t items, std::size_t criteria, std::size_t draws);

  [[nodiscard]] std::size_t items() const { return items_; }
  [[nodiscard]] std::size_t criteria() const { return criteria_; }
  [[nodiscard]] std::size_t count() const { return draws_; }
  double& value(std::size_t draw, std::size_t item, std::size_t criterion) {
    return values_[(draw * items_ + item) * criteria_ + criterion];
  }
  /// Not negative; need not sum to 1.
  double& weight(std::size_t draw, std::size_t criterion) { return weights_[draw * criteria_ + criterion]; }
  [[nodiscard]] std::span<const double> values(std::size_t draw, std::size_t item) const {
    return {values_.data() + (draw * items_ + item) * criteria_, criteria_};
  }
  [[nodiscard]] std::span<const double> weights(std::size_t draw) const {
    return {weights_.data() + draw * criteria_, criteria_};
  }

 private:
  std::size_t items_;
  std::size_t criteria_;
  std::size_t draws_;
  std::vector<double> values_;
  std::vector<double> weights_;
};

/// Sum of weight times value over the sum of weights; 0 if all weights are 0.
double weighted_score(std::span<const double> weights, std::span<const double> values);

struct Acceptability {
  std::vector<std::vector<double>> rank_share;  ///< [item][rank from 0]; ties share their ranks evenly
  std::vector<Range> score;                     ///< [item]: median, 5 % and 95 %
};

/// Order of n items k criteria draws: n log n each.
Acceptability acceptability(const Draws& draws);

/// The weight of one criterion at which the two scores are equal, all others kept (Triantaphyllou and Sanchez
/// 1997, Decision Sciences 28:151, theorem for the weighted sum model). Nothing if the criterion does not
/// tell the two apart or no weight of zero or more does it.
std::optional<double> flipping_weight(std::span<const double> weights, std::span<const double> first,
                                      std::span<const double> second, std::size_t criterion);

/// Positions of the ordinal grades on a scale from 0 (none) to 1 (very high). The grades say which is more,
/// not how much more, so no fixed numbers are given to them: each draw places the inner ones anew, at random,
/// in their order. A result that depends on one spacing then shows as a small share of draws, and one that
/// holds for all spacings as a large one. Source of the method: Lahdelma, Miettinen and Salminen 2003, EJOR
/// 147:117 (ordinal criteria in SMAA).
using GradeScale = std::vector<double>;
GradeScale drawn_grade_scale(nesting::Random& random);
/// The mean of all such scales: evenly spaced (the expectation of uniform order statistics). For the central
/// score only.
GradeScale mean_grade_scale();

/// Worth of a grade where at least (or at most) `wanted` is asked: 1 as soon as it is met.
double grade_worth(const GradeScale& scale, library::Grade grade, library::Grade wanted, bool at_most);

/// Linear from `poor` (0) to `good` (1), whichever is larger; clipped.
double measured_worth(double seen, double poor, double good);

}  // namespace warmsheet::choice
