// SPDX-License-Identifier: MIT
// The study as figures: what to have, when to order, what a month costs, each with its range and what it
// rests on.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/figure.h"
#include "stock/rolls.h"
#include "stock/study.h"

namespace warmsheet::stock {

/// One sheet size beside the one in use.
struct SizeAnswer {
  std::string key;
  Figure sheet_area;
  Finding sheets_per_month;
  Finding waste;
  Finding cost_per_month;  ///< of the sheets alone
  Finding more_cost;       ///< against the size in use, with its confidence interval
};

/// The coming year, month by month.
struct YearAnswer {
  std::vector<Figure> on_hand;  ///< at the end of each month; below zero: waiting
  std::vector<Figure> short_chance;
  Figure ordered;
  Figure served;
  Figure expired;
  Figure cost;
};

/// How sheets are cut into blanks ahead.
struct BlankAnswer {
  struct Size {
    std::string kind;
    Figure length;
    Figure width;
    Figure per_month;
  };
  struct Cut {
    Figure sheets_per_month;
    std::vector<Figure> counts;  ///< of each size on one sheet
  };
  std::vector<Size> sizes;
  std::vector<Cut> cuts;
  Figure bound;  ///< sheets a month
};

struct ItemAnswer {
  std::string key;
  std::string size;
  bool watched;  ///< all the time, not at reviews
  Promise promise;
  Promised promised;
  std::optional<Figure>
      short_soon;   ///< chance of a shortage in the first month, where today's shelf makes it so
  bool order_fits;  ///< the smallest order is not more than space and shelf life allow
  std::vector<std::string> kinds;

  Finding orthoses_per_month;
  Finding sheets_per_month;
  Finding waste;
  Finding offcuts;
  Finding demand_to_cover;
  Finding reorder_point;
  Finding order_up_to;
  Finding order_quantity;
  Finding textbook_lot;
  Finding normal_reorder_point;  ///< what the usual spreadsheet formula gives
  Finding cycle_service;
  Finding fill_rate;
  Finding on_hand_mean;
  Finding orders_per_year;
  Finding expiry_per_year;
  Finding cost_per_month;
  Finding implied_shortage_cost;
  Finding cost_best_reorder_point;  ///< where a shortage has a price

  Figure on_hand_now;
  Figure on_order_now;
  Finding order_now;
  Finding order_now_cost;  ///< goods and the order itself

  std::vector<Figure> sheets_by_month;  ///< calendar, from the first month of the caseload
  std::optional<YearAnswer> with_policy;
  std::optional<YearAnswer> without_orders;
  std::optional<BlankAnswer> blanks;
  std::vector<SizeAnswer> sizes;
  std::optional<std::string> least_waste;  ///< size, if it differs from the one in use beyond chance
  std::optional<std::string> least_cost;
};

struct RollAnswer {
  std::string fixing;
  std::string name;
  Finding metres_per_month;
  Finding reorder_point;   ///< m
  Finding order_up_to;     ///< m
  Finding order_quantity;  ///< rolls
  Finding cycle_service;
  Finding fill_rate;
  Finding cost_per_month;
  Finding order_now;  ///< rolls
  Finding order_now_cost;
  Figure on_hand_now;
};

/// Two items that could be one: what less reserve would be needed.
struct PoolingAnswer {
  std::string first;
  std::string second;
  Figure apart;  ///< sheets of reserve, both
  Figure together;
  Figure saved_a_year;
};

struct Answers {
  std::vector<ItemAnswer> items;
  std::vector<RollAnswer> rolls;
  std::vector<PoolingAnswer> pooling;
  Figure months;  ///< simulated
  Finding orthoses_per_month;
  Finding sheets_per_month;
  Finding waste;
  Finding cost_per_month;  ///< sheets, straps, edging
  bool possible = true;    ///< every outline fits its sheet

  /// orthoses_per_month, sheets_per_month, waste, cost_per_month.
  [[nodiscard]] std::vector<NamedFinding> results() const;
};

/// `low` and `high`: the same caseload at the ends of its demand; absent if there are none.
Answers answers_of(const Caseload& caseload, const library::Library& library, const Study& study,
                   const Study* low, const Study* high);

/// Two ways side by side: the same orthoses in both, so that only the ways differ.
struct Comparison {
  std::string first;
  std::string second;
  struct Line {
    std::string what;
    Figure first;
    Figure second;
    Figure difference;  ///< second less first, low and high: 95 % confidence interval
    bool certain;       ///< the interval does not hold zero
  };
  std::vector<Line> lines;
};
Comparison compare(const Caseload& first_load, const Caseload& second_load, const std::string& first,
                   const std::string& second, const library::Library& library, const Study& first_study,
                   const Study& second_study);

}  // namespace warmsheet::stock
