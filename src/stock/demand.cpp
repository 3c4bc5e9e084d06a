// SPDX-License-Identifier: MIT
#include "stock/demand.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/calendar.h"
#include "nesting/random.h"

namespace warmsheet::stock {
namespace {

std::uint32_t drawn_from(const std::vector<double>& shares, double u) {
  std::uint32_t i = 0;
  while (i + 1 < shares.size() && u >= shares[i]) u -= shares[i++];
  return i;
}

/// Whole number with this mean: the part behind the point is a chance.
int rounded_at_random(double mean, nesting::Random& random) {
  const double whole = std::floor(mean);
  return static_cast<int>(whole) + (random.unit() < mean - whole ? 1 : 0);
}

/// Poisson by adding up exponential waiting times; exact, and quick enough for the most orthoses a month that
/// a caseload may have.
int poisson(double mean, nesting::Random& random) {
  int count = 0;
  for (double t = -std::log1p(-random.unit()); t < mean; t -= std::log1p(-random.unit())) ++count;
  return count;
}

class MonthOfKind {
 public:
  MonthOfKind(const KindDemand& demand, int end, std::uint32_t kind, nesting::Random random,
              std::vector<Arrival>& into)
      : demand_(demand), end_(end), kind_(kind), random_(random), into_(into) {}

  void draw(int month, double factor, std::size_t history_row) {
    const int orthoses = demand_.history.empty()
                             ? poisson(demand_.per_month * factor, random_)
                             : rounded_at_random(demand_.history[history_row] * factor, random_);
    for (int i = 0; i < orthoses; ++i) {
      const double moment = month + random_.unit();
      make(moment, drawn_from(demand_.size_shares, random_.unit()));
    }
  }

 private:
  /// An orthosis, with what is spoiled at the bench, and again after the fitting if it has to be.
  void make(double moment, std::uint32_t size) {
    do {
      do {
        if (moment >= 0.0 && moment < end_) into_.push_back({moment, kind_, size});
      } while (random_.unit() < demand_.scrap_chance);
      moment += demand_.remake_after_months;
    } while (random_.unit() < demand_.remake_chance);
  }

  const KindDemand& demand_;
  int end_;
  std::uint32_t kind_;
  nesting::Random random_;
  std::vector<Arrival>& into_;
};

/// Months before the start whose orthoses may be made again after it. A second remake is one in hundreds.
int months_before(const Demand& demand) {
  double longest = 0.0;
  for (const KindDemand& kind : demand.kinds)
    if (kind.remake_chance > 0.0) longest = std::max(longest, 2.0 * kind.remake_after_months);
  return static_cast<int>(std::ceil(longest));
}

std::size_t history_months(const Demand& demand) {
  for (const KindDemand& kind : demand.kinds)
    if (!kind.history.empty()) return kind.history.size();
  return 1;
}

}  // namespace

double Demand::factor(int month) const {
  const int of_year = ((first_month + month) % months_in_year + months_in_year) % months_in_year;
  return season[static_cast<std::size_t>(of_year)] *
         std::pow(1.0 + growth_a_year, static_cast<double>(month) / months_in_year);
}

double Demand::pieces_per_month(std::size_t kind) const {
  const KindDemand& d = kinds[kind];
  const double mean = d.history.empty() ? d.per_month
                                        : std::accumulate(d.history.begin(), d.history.end(), 0.0) /
                                              static_cast<double>(d.history.size());
  return mean / ((1.0 - d.scrap_chance) * (1.0 - d.remake_chance));
}

std::vector<Arrival> arrivals(const Demand& demand, std::uint64_t run, int months, bool growing) {
  Demand shaped = demand;
  if (!growing) shaped.growth_a_year = 0.0;
  const nesting::Random root = nesting::Random(demand.seed).fork(run);
  const std::size_t rows = history_months(demand);
  std::vector<Arrival> all;
  for (int month = -months_before(demand); month < months; ++month) {
    nesting::Random of_month = root.fork(static_cast<std::uint64_t>(month));
    const std::size_t row = of_month.below(rows);
    for (std::size_t k = 0; k < demand.kinds.size(); ++k)
      MonthOfKind(demand.kinds[k], months, static_cast<std::uint32_t>(k), of_month.fork(k), all)
          .draw(month, demand.kinds[k].level * shaped.factor(month), row);
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Arrival& a, const Arrival& b) { return a.month < b.month; });
  return all;
}

}  // namespace warmsheet::stock
