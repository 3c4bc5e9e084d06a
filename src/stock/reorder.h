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
#include "stock/loss.h"

namespace warmsheet::stock {

/// Reorder point of a normal demand for a cycle service, not rounded.
double normal_cycle_level(const NormalDemand& demand, double service);

/// Fill rate of order-up-to level s with periodic review. `over_lead` and `over_protection` are the demands
/// over lead time, and over lead time plus review period. Exact: counts the shortages that arise in the
/// period (Sobel 2004, Manufacturing & Service Operations Management 6(1):41-52).
double periodic_fill(const Law& over_lead, const Law& over_protection, int s);
/// The textbooks' short cut, which also counts shortages left from the period before: never above the exact
/// one, below zero for small s.
double periodic_fill_short_cut(const Law& over_lead, const Law& over_protection, int s);
/// Smallest s that reaches the (exact) fill rate. \pre target < 1
int periodic_level_for_fill(const Law& over_lead, const Law& over_protection, double target);

/// Fill rate of "order q when the position falls to r": the position is equally likely r+1 .. r+q, and a unit
/// is served at once if the demand over the lead time is below it. Exact for a Poisson demand of single
/// units.
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

/// The chance of being in stock that makes a stock of one more worth its cost: the newsvendor's critical
/// ratio.
double critical_ratio(double cost_of_one_short, double cost_of_one_left);
/// The other way round: what one short must cost for a target to be right.
double implied_shortage_cost(double service, double cost_of_one_left);
/// Expected cost of a stock of s for one period.
double newsvendor_cost(const Law& demand, int s, double cost_of_one_short, double cost_of_one_left);
double newsvendor_cost(const NormalDemand& demand, double s, double cost_of_one_short,
                       double cost_of_one_left);

}  // namespace warmsheet::stock
