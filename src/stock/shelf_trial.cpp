// SPDX-License-Identifier: MIT
#include "stock/shelf_trial.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "nesting/random.h"

namespace warmsheet::stock {
namespace {

/// So many order cycles a stretch say as much about a promise as its withdrawals can, near enough: with more
/// of them the windows overlap.
constexpr double cycles_wanted = 24.0;
/// Keeps an order for decades from taking minutes.
constexpr int most_starts = 48;

double demand_a_month(const std::vector<Usage>& stretches) {
  std::size_t taken = 0;
  for (const Usage& usage : stretches) taken += usage.taken.size();
  return static_cast<double>(taken) /
         (static_cast<double>(stretches.size()) * (settling_months + stretch_months));
}

/// What the counted months of one stretch add up to, over all its starts.
struct Counts {
  double asked = 0.0;
  double served = 0.0;
  double deliveries = 0.0;
  double in_time = 0.0;
  double ordered = 0.0;
  double expired = 0.0;

  void add(const ShelfRun& run) {
    for (std::size_t m = settling_months; m < run.months.size(); ++m) {
      const ShelfMonth& month = run.months[m];
      asked += month.asked;
      served += month.served;
      deliveries += month.deliveries;
      in_time += month.deliveries - month.late_deliveries;
      ordered += month.ordered();
      expired += month.expired;
    }
  }
};

std::optional<Estimate> share(const std::vector<Counts>& counts, double Counts::*part,
                              double Counts::*whole) {
  std::vector<double> parts;
  std::vector<double> wholes;
  for (const Counts& c : counts) {
    parts.push_back(c.*part);
    wholes.push_back(c.*whole);
  }
  return estimate_of_ratio(parts, wholes);
}

}  // namespace

std::vector<ShelfStart> starts_in_cycle(const OrderPolicy& policy, double demand_a_month,
                                        const std::optional<double>& life_months, double offset) {
  const int quantity = std::max(1, policy.order_up_to - policy.reorder_point);
  if (demand_a_month <= 0.0) return {ShelfStart{std::max(policy.order_up_to, 0), {}}};
  const double cycle =
      std::min(quantity / demand_a_month, life_months.value_or(std::numeric_limits<double>::infinity()));
  const double wanted = std::ceil(cycles_wanted * std::max(cycle, policy.review_months) / stretch_months);
  const int count = static_cast<int>(std::min<double>(wanted, std::min(quantity, most_starts)));
  std::vector<ShelfStart> starts;
  for (int i = 0; i < count; ++i) {
    const double age = (i + offset) / count * cycle;
    const int used = static_cast<int>(age * demand_a_month);
    starts.push_back({std::max(policy.order_up_to - used, 0), {}, age});
  }
  return starts;
}

Trial try_policy(const std::vector<Usage>& stretches, const ShelfRules& rules, const OrderPolicy& policy,
                 std::uint64_t seed) {
  Trial trial;
  std::vector<Counts> counts(stretches.size());
  const double demand = demand_a_month(stretches);
  for (std::size_t s = 0; s < stretches.size(); ++s) {
    const nesting::Random root = nesting::Random(seed).fork(s);
    const double offset = nesting::Random(root).unit();
    std::vector<ShelfRun> runs;
    for (const ShelfStart& start : starts_in_cycle(policy, demand, rules.life_months, offset)) {
      runs.push_back(keep_shelf(stretches[s].taken, settling_months + stretch_months, start, rules, policy,
                                root.fork(runs.size()).next()));
      counts[s].add(runs.back());
    }
    trial.runs.push_back(std::move(runs));
  }
  trial.cycle = share(counts, &Counts::in_time, &Counts::deliveries);
  trial.fill = share(counts, &Counts::served, &Counts::asked);
  double ordered = 0.0;
  double expired = 0.0;
  for (const Counts& c : counts) {
    ordered += c.ordered;
    expired += c.expired;
  }
  if (ordered > 0.0) trial.expired_share = expired / ordered;
  return trial;
}

}  // namespace warmsheet::stock
