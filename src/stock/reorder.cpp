// SPDX-License-Identifier: MIT
#include "stock/reorder.h"

#include "stock/probability.h"

namespace warmsheet::stock {

double normal_cycle_level(const NormalDemand& demand, double service) {
  return demand.mean + normal_quantile(service) * demand.sd;
}

double periodic_fill(const Law& over_lead, const Law& over_protection, int s) {
  const double in_period = over_protection.mean() - over_lead.mean();
  return 1.0 - (over_protection.shortfall(s) - over_lead.shortfall(s)) / in_period;
}

double periodic_fill_short_cut(const Law& over_lead, const Law& over_protection, int s) {
  return 1.0 - over_protection.shortfall(s) / (over_protection.mean() - over_lead.mean());
}

int periodic_level_for_fill(const Law& over_lead, const Law& over_protection, double target) {
  int s = 0;
  while (s < over_protection.largest() && periodic_fill(over_lead, over_protection, s) < target) ++s;
  return s;
}

double continuous_fill(const Law& over_lead, int r, int q) {
  double served = 0.0;
  for (int position = r + 1; position <= r + q; ++position) served += over_lead.at_most(position - 1);
  return served / q;
}

int reorder_point_for_fill(const Law& over_lead, int q, double target) {
  int r = -q;  // an order placed only when q are already waiting serves nobody at once
  while (r < over_lead.largest() && continuous_fill(over_lead, r, q) < target) ++r;
  return r;
}

double running_cost(const RunningCosts& costs, const Law& over_lead, int r, int q) {
  double rate = costs.order_cost * costs.demand;
  for (int position = r + 1; position <= r + q; ++position)
    rate += costs.holding_cost * over_lead.leftover(position) +
            costs.shortage_cost * over_lead.shortfall(position);
  return rate / q;
}

double critical_ratio(double cost_of_one_short, double cost_of_one_left) {
  return cost_of_one_short / (cost_of_one_short + cost_of_one_left);
}

double implied_shortage_cost(double service, double cost_of_one_left) {
  return cost_of_one_left * service / (1.0 - service);
}

double newsvendor_cost(const Law& demand, int s, double cost_of_one_short, double cost_of_one_left) {
  return cost_of_one_left * demand.leftover(s) + cost_of_one_short * demand.shortfall(s);
}

double newsvendor_cost(const NormalDemand& demand, double s, double cost_of_one_short,
                       double cost_of_one_left) {
  const double short_of = shortfall(demand, s);
  return cost_of_one_left * (s - demand.mean + short_of) + cost_of_one_short * short_of;
}

}  // namespace warmsheet::stock
