// SPDX-License-Identifier: MIT
#include "choice/rank.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "heat/ranges.h"

namespace warmsheet::choice {
namespace {

constexpr std::size_t grades = 5;

/// Gives the ranks from `from` up to `to` in equal parts to all items that share them.
void share_ranks(const std::vector<std::size_t>& order, std::size_t from, std::size_t to,
                 Acceptability& result) {
  const double part = 1.0 / static_cast<double>(to - from);
  for (std::size_t i = from; i < to; ++i)
    for (std::size_t rank = from; rank < to; ++rank) result.rank_share[order[i]][rank] += part;
}

void rank_one_draw(const std::vector<double>& scores, std::vector<std::size_t>& order,
                   Acceptability& result) {
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return scores[a] > scores[b]; });
  for (std::size_t from = 0; from < order.size();) {
    std::size_t to = from + 1;
    while (to < order.size() && scores[order[to]] == scores[order[from]]) ++to;
    share_ranks(order, from, to, result);
    from = to;
  }
}

}  // namespace

Draws::Draws(std::size_t items, std::size_t criteria, std::size_t draws)
    : items_(items),
      criteria_(criteria),
      draws_(draws),
      values_(items * criteria * draws),
      weights_(criteria * draws) {}

double weighted_score(std::span<const double> weights, std::span<const double> values) {
  double sum = 0.0;
  double total = 0.0;
  for (std::size_t k = 0; k < weights.size(); ++k) {
    sum += weights[k] * values[k];
    total += weights[k];
  }
  return total > 0.0 ? sum / total : 0.0;
}

Acceptability acceptability(const Draws& draws) {
  const std::size_t n = draws.items();
  Acceptability result{std::vector(n, std::vector<double>(n, 0.0)), {}};
  std::vector<std::vector<double>> all_scores(n, std::vector<double>(draws.count()));
  std::vector<double> scores(n);
  std::vector<std::size_t> order(n);
  for (std::size_t d = 0; d < draws.count(); ++d) {
    for (std::size_t i = 0; i < n; ++i)
      all_scores[i][d] = scores[i] = weighted_score(draws.weights(d), draws.values(d, i));
    rank_one_draw(scores, order, result);
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (double& share : result.rank_share[i]) share /= static_cast<double>(draws.count());
    result.score.push_back(heat::spread(all_scores[i], heat::quantile(all_scores[i], 0.5)));
  }
  return result;
}

std::optional<double> flipping_weight(std::span<const double> weights, std::span<const double> first,
                                      std::span<const double> second, std::size_t criterion) {
  // Differences below this are rounding, not a preference.
  constexpr double no_difference = 1e-9;
  const double here = first[criterion] - second[criterion];
  if (std::abs(here) < no_difference) return std::nullopt;
  double others = 0.0;
  for (std::size_t k = 0; k < weights.size(); ++k)
    if (k != criterion) others += weights[k] * (first[k] - second[k]);
  const double flip = -others / here;
  return flip >= 0.0 ? std::optional(flip) : std::nullopt;
}

GradeScale drawn_grade_scale(nesting::Random& random) {
  GradeScale scale(grades, 0.0);
  scale.back() = 1.0;
  for (std::size_t g = 1; g + 1 < grades; ++g) scale[g] = random.unit();
  std::sort(scale.begin() + 1, scale.end() - 1);
  return scale;
}

GradeScale mean_grade_scale() {
  GradeScale scale(grades);
  for (std::size_t g = 0; g < grades; ++g)
    scale[g] = static_cast<double>(g) / static_cast<double>(grades - 1);
  return scale;
}

double grade_worth(const GradeScale& scale, library::Grade grade, library::Grade wanted, bool at_most) {
  const bool met = at_most ? grade <= wanted : grade >= wanted;
  if (met) return 1.0;
  const double seen = scale[static_cast<std::size_t>(grade)];
  const double asked = scale[static_cast<std::size_t>(wanted)];
  return at_most ? (1.0 - seen) / (1.0 - asked) : seen / asked;
}

double measured_worth(double seen, double poor, double good) {
  return std::clamp((seen - poor) / (good - poor), 0.0, 1.0);
}

}  // namespace warmsheet::choice
