// SPDX-License-Identifier: MIT
// Two policies on the same orthoses (common random numbers): what they differ by, stretch by stretch, with a
// confidence interval.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "stock/answers.h"
#include "stock/evidence.h"
#include "stock/item_study.h"

namespace warmsheet::stock {
namespace {

std::vector<double> cost(const Study& study) {
  std::vector<double> total(static_cast<std::size_t>(study.stretches), 0.0);
  for (const ItemStudy& item : study.items)
    for (std::size_t s = 0; s < item.cost_by_year.size(); ++s)
      total[s] += estimate(item.cost_by_year[s]).mean;
  return total;
}

/// m2 a month of all items. Both ways give the same orthosis and practice, so they use more by what they
/// waste more.
std::vector<double> area(const Study& study, double (Areas::*part)() const) {
  std::vector<double> total(static_cast<std::size_t>(study.stretches), 0.0);
  for (const ItemStudy& item : study.items) {
    const std::vector<Areas> stretches = by_stretch(item.areas_by_year);
    for (std::size_t s = 0; s < stretches.size(); ++s) total[s] += (stretches[s].*part)() / stretch_months;
  }
  return total;
}

/// Sums of the same terms in another order differ by their last digits.
double without_dust(double difference, double of) {
  constexpr double rounding = 1e-9;
  return std::abs(difference) <= rounding * std::abs(of) ? 0.0 : difference;
}

Comparison::Line line(const std::string& what, const std::vector<double>& a, const std::vector<double>& b,
                      const Unit& unit, const std::vector<Figure>& behind_a,
                      const std::vector<Figure>& behind_b) {
  std::vector<double> differences;
  for (std::size_t i = 0; i < a.size(); ++i) differences.push_back(without_dust(b[i] - a[i], a[i]));
  const Estimate difference = estimate(differences);
  const char* how = "mean of the simulated stretches; 95 % confidence interval";
  const Figure first = Figure::derived(what, range_of(estimate(a)), unit, how, behind_a);
  const Figure second = Figure::derived(what, range_of(estimate(b)), unit, how, behind_b);
  return {
      what, first, second,
      Figure::derived(what + ", difference", range_of(difference), unit,
                      "stretch by stretch with the same orthoses; 95 % confidence interval", {first, second}),
      difference.low() > 0.0 || difference.high() < 0.0};
}

std::vector<Figure> leaves_of(const Caseload& caseload, const library::Library& library, const Study& study,
                              bool money) {
  const Figure months = months_simulated(study);
  std::vector<Figure> all;
  for (const Item& item : caseload.items) {
    const ItemEvidence evidence(caseload, library, item, study.kinds, months);
    for (const Figure& figure : money ? evidence.behind_cost() : evidence.behind_use())
      if (std::none_of(all.begin(), all.end(), [&](const Figure& f) { return f.same_node(figure); }))
        all.push_back(figure);
  }
  return all;
}

}  // namespace

Comparison compare(const Caseload& first_load, const Caseload& second_load, const std::string& first,
                   const std::string& second, const library::Library& library, const Study& first_study,
                   const Study& second_study) {
  const auto check = [](const Study& study, const Caseload& caseload) {
    for (const ItemStudy& item : study.items)
      if (!item.possible)
        throw Failure(
            Problem{Trouble::no_answer,
                    {},
                    fmt::format("not every outline fits {}", caseload.items[item.item].sizes.front()),
                    "choose a larger sheet"});
  };
  check(first_study, first_load);
  check(second_study, second_load);
  const auto use_a = leaves_of(first_load, library, first_study, false);
  const auto use_b = leaves_of(second_load, library, second_study, false);
  const auto money_a = leaves_of(first_load, library, first_study, true);
  const auto money_b = leaves_of(second_load, library, second_study, true);
  const Unit& m2 = *find_unit(Dimension::area, "m2");
  const Unit& money = first_load.items.front().prices.front().price.unit();
  return {first,
          second,
          {line("sheet used a month", area(first_study, &Areas::used_m2), area(second_study, &Areas::used_m2),
                m2, use_a, use_b),
           line("sheet wasted a month", area(first_study, &Areas::wasted_m2),
                area(second_study, &Areas::wasted_m2), m2, use_a, use_b),
           line("cost a month", cost(first_study), cost(second_study), money, money_a, money_b)}};
}

}  // namespace warmsheet::stock
