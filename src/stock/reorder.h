// SPDX-License-Identifier: MIT
// When to order and up to what level. Two promises are in use and often mixed up; both are computed and
// named:
//   cycle service   chance that nothing is short between an order and its delivery;
//   fill rate       share of what is asked for that is served from the shelf at once.
// Conventions: a reorder point r means "order when on hand plus on order is r or less"; cycle service is met
// when P(D <= r) reaches the target, D being the demand over the time to protect: the lead time if the shelf
// is watched all the time, lead time plus review period if it is looked at now and then.
#pragma once

#include "stock/law.h"

namespace warmsheet::stock {

struct NormalDemand {
  double mean;
  double sd;
};
/// Reorder point of a normal demand for a cycle service, not rounded.
double normal_cycle_level(const NormalDemand& demand, double service);

/// Fill rate of "order q when the position falls to r": the position is equally likely r+1 .. r+q, and a unit
/// is served at once if the demand over the lead time is below it: what is short at r and no more at r + q is
/// not. Exact for a Poisson demand of single units.
double continuous_fill(const Law& over_lead, int r, int q);
/// Smallest r that reaches the fill rate with order quantity q. \pre target < 1, q >= 1
int reorder_point_for_fill(const Law& over_lead, int q, double target);

/// What running "order q at r" costs a year, without the goods themselves.
struct RunningCosts {
  double demand;         ///< sheets a year
  double order_cost;     ///< for one order
  double holding_cost;   ///< for one sheet a year
  double shortage_cost;  ///< for one sheet short a year; 0 if nobody stated one
};
/// Poisson-like demand with law `over_lead` (Hadley and Whitin's exact model for unit demands).
double running_cost(const RunningCosts& costs, const Law& over_lead, int r, int q);

/// What one short must cost for a cycle service to be right: service = short / (short + left), the critical
/// ratio of the newsvendor.
double implied_shortage_cost(double service, double cost_of_one_left);

}  // namespace warmsheet::stock
