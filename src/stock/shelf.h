// SPDX-License-Identifier: MIT
// The shelf of one stock item, event by event: sheets leave when they are cut, orders go out when the policy
// says so, arrive after their lead time, and what is too old is thrown away. What cannot be served waits for
// the next delivery.
#pragma once

#include <cstdint>
#include <numeric>
#include <optional>
#include <vector>

#include "stock/law.h"
#include "stock/lot.h"

namespace warmsheet::stock {

/// Lead time in months: triangular between its bounds.
struct LeadTime {
  double low;
  double usual;
  double high;
  [[nodiscard]] double mean() const { return (low + usual + high) / 3.0; }
  /// \pre 0 <= u < 1
  [[nodiscard]] double draw(double u) const;
};

/// When and how much. The position is what is on hand and on order, less what waits.
struct OrderPolicy {
  int reorder_point;           ///< order when the position is this or less
  int order_up_to;             ///< to about this: whole packs, at least the smallest order
  double review_months = 0.0;  ///< 0: watched all the time
  int pack = 1;
  int least = 1;
};

struct ShelfRules {
  LeadTime lead;
  std::optional<double> life_months;
};

struct ShelfStart {
  int on_hand = 0;
  struct Coming {
    int sheets;
    double month;
  };
  std::vector<Coming> on_order;
  double age_months = 0.0;  ///< of what is on hand
};

struct ShelfMonth {
  int asked = 0;
  int served = 0;  ///< at once
  int expired = 0;
  int deliveries = 0;
  int late_deliveries = 0;       ///< found something waiting
  std::vector<int> orders = {};  ///< sheets in each
  double on_hand = 0.0;          ///< mean over the month
  int at_end = 0;                ///< on hand; below zero: waiting

  [[nodiscard]] int ordered() const { return std::accumulate(orders.begin(), orders.end(), 0); }
};

struct ShelfRun {
  std::vector<ShelfMonth> months;
};

/// `taken`: moments at which a sheet is wanted. Without a policy nothing is ordered. `seed` draws the lead
/// times.
ShelfRun keep_shelf(const std::vector<double>& taken, int months, const ShelfStart& start,
                    const ShelfRules& rules, const std::optional<OrderPolicy>& policy, std::uint64_t seed);

/// How many sheets to order at a position; 0 if none.
int order_now(const OrderPolicy& policy, int position);

/// Law of the sheets wanted between an order and the delivery that must cover it, read off simulated
/// withdrawals: from each withdrawal over a lead time if the shelf is watched, from each review over review
/// and lead time if not. `runs` hold moments of `months` months each.
Law demand_to_cover(const std::vector<std::vector<double>>& runs, int months, const LeadTime& lead,
                    double review_months, std::uint64_t seed);

}  // namespace warmsheet::stock
