// SPDX-License-Identifier: MIT
#include "stock/reorder.h"

#include "stock/probability.h"

namespace warmsheet::stock {

double normal_cycle_level(const NormalDemand& demand, double service) {
  return demand.mean + normal_quantile(service) * demand.sd;
}

double continuous_fill(const Law& over_lead, int r, int q) {
  return 1.0 - (over_lead.shortfall(r) - over_lead.shortfall(r + q)) / q;
}

int reorder_point_for_fill(const Law& over_lead, int q, double target) {
  int r = -q;  // an order placed only when q are already waiting serves nobody at once
  int enough = over_lead.largest();
  // By halves: a roll's order is thousands of steps.
  while (r < enough) {
    const int middle = r + (enough - r) / 2;
    if (continuous_fill(over_lead, middle, q) < target)
      r = middle + 1;
    else
      enough = middle;
  }
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
