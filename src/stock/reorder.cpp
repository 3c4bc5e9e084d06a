// SPDX-License-Identifier: MIT
#include "stock/reorder.h"

#include "stock/probability.h"

namespace warmsheet::stock {

double normal_cycle_level(const NormalDemand& demand, double service) {
  return demand.mean + normal_quantile(service) * demand.sd;
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

double implied_shortage_cost(double service, double cost_of_one_left) {
  return cost_of_one_left * service / (1.0 - service);
}

}  // namespace warmsheet::stock
