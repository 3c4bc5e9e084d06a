// SPDX-License-Identifier: MIT
// Slow movers: an order lasts longer than a stretch, and the exact model of unit demands still holds.
#include "stock/shelf_trial.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "stock/reorder.h"
#include "stock/study.h"
#include "support.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::stock;
using testing::near_abs;
using testing::near_rel;

namespace {

/// Sheets at 20 that Poisson orthoses take whole.
ItemStudy studied(const std::string& mean, const std::string& supply, const std::string& pack = "1") {
  static const library::Library library = library::load({});
  const std::string item = "pack = " + pack + "\n[[item.price]]\nfrom = 1\neach = \"20 cr\"\n";
  StudyOptions options;
  options.months = 4800;
  options.projections = options.sizes = false;
  const std::string promise = "watch = \"always\"\nservice = \"95 %\"\n";
  return study(parse_caseload(testing::one_sheet_each(mean, promise + supply, item), "c.toml", library),
               library, options)
      .items.front();
}

/// A month's goods, orders and holding, and the cycle service, on withdrawals of our own.
struct Ran {
  double cost;
  double cycle_service;
};
Ran run_shelf(double per_month, const ShelfRules& rules, const OrderPolicy& policy) {
  constexpr int months = 3000;
  const ShelfRun run = keep_shelf(testing::poisson_moments(per_month, months, 7), months,
                                  {policy.order_up_to, {}}, rules, policy, 7);
  double cost = 0.0, deliveries = 0.0, late = 0.0;
  for (const ShelfMonth& month : run.months) {
    for (const int sheets : month.orders) cost += 20.0 * sheets + 12.0;
    cost += month.on_hand * 20.0 * 0.2 / 12.0;
    deliveries += month.deliveries;
    late += month.late_deliveries;
  }
  return {cost / months, 1.0 - late / deliveries};
}

/// The cheapest reorder point that keeps 95 % with this order quantity is the smallest. Infinite where none
/// does, for what is ordered grows too old.
double cost_of_quantity(double per_month, const ShelfRules& rules, int quantity) {
  constexpr int hopeless = 25;
  for (int r = 0; r < hopeless; ++r) {
    const Ran ran = run_shelf(per_month, rules, {r, r + quantity});
    if (ran.cycle_service >= 0.95) return ran.cost;
  }
  return std::numeric_limits<double>::infinity();
}

}  // namespace

TEST_CASE("starts of a slow cycle take each position once") {
  const OrderPolicy policy{3, 10};
  std::vector<int> on_hand;
  for (const ShelfStart& start : starts_in_cycle(policy, 0.01, {}, 0.3)) on_hand.push_back(start.on_hand);
  std::sort(on_hand.begin(), on_hand.end());
  CHECK(on_hand == std::vector<int>{4, 5, 6, 7, 8, 9, 10});
}

TEST_CASE("a fast cycle is seen often enough from one start, and no start is older than its life") {
  CHECK(starts_in_cycle({3, 10}, 20.0, {}, 0.3).size() == 1);
  for (const ShelfStart& start : starts_in_cycle({3, 100}, 1.0, 12.0, 0.99)) {
    CHECK(start.age_months < 12.0);
    CHECK(start.on_hand > 100 - 12);
  }
}

TEST_CASE("orders that last longer than a stretch: reorder point, services and cost of the exact model") {
  // Hadley and Whitin (from memory): reorder point of Poisson demand over the lead time; a month costs the
  // goods used, an order for each lot, and holding of r + (q + 1)/2 - D_L sheets. Poisson tables of 3 and
  // .4 at 95 %: 6 and 2.
  struct Row {
    const char* mean;
    double per_month;
    const char* pack;
    int q;
    const char* lead;
    double lead_months;
    int r;
  };
  for (const Row& row :
       {Row{"1", 1.0, "70", 70, "3 month", 3.0, 6}, Row{"0.2", 0.2, "15", 15, "2 month", 2.0, 2},
        Row{"0.5", 0.5, "40", 40, "2 month", 2.0, 3}}) {
    CAPTURE(row.mean);
    const ItemStudy item =
        studied(row.mean,
                std::string("order_cost = \"10 cr\"\nholding = \"20 %\"\nlead_time = \"") + row.lead + "\"\n",
                row.pack);
    CHECK(item.lot.quantity == row.q);
    CHECK(item.policy.reorder_point == row.r);
    const Law cover = Law::poisson(row.per_month * row.lead_months);
    CHECK(std::abs(item.cycle_service->mean - cover.at_most(row.r)) <= 2.0 * item.cycle_service->half_width);
    // What is short is under a thousandth; it may be missed whole in 4800 months.
    CHECK(near_abs(item.fill_rate->mean, continuous_fill(cover, row.r, row.q), 0.001));
    const double on_hand = row.r + 0.5 * (row.q + 1) - cover.mean();
    // Starts that lie evenly in the cycle leave hardly any chance in a mean over whole cycles.
    CHECK(near_rel(item.on_hand.mean, on_hand, 0.005));
    const double cost = 20.0 * row.per_month + 10.0 * row.per_month / row.q + 20.0 * 0.2 / 12.0 * on_hand;
    // 4800 months of Poisson demand: four standard errors of the mean.
    CHECK(near_rel(item.cost.mean, cost, 4.0 / std::sqrt(4800.0 * row.per_month)));
  }
}

TEST_CASE("where holding costs nothing the goods still cost, and an order has an end") {
  const ItemStudy item = studied("1", "order_cost = \"10 cr\"\nholding = \"0 %\"\nlead_time = \"1 month\"\n");
  // 4800 months of one a month: the mean lies within four standard errors.
  const double chance = 4.0 / std::sqrt(4800.0);
  CHECK(near_rel(item.lot.quantity, 60.0, chance));  // five years
  CHECK(near_rel(item.cost.mean, 20.0 + 10.0 / 60.0, chance));
}

TEST_CASE("a short shelf life leaves the order that an independent simulation finds cheapest") {
  // Withdrawals drawn here, shelf kept event by event, the smallest reorder point with 95 % cycle service for
  // each quantity. No other quantity is cheaper by more than 2 %, the noise of 3000 months.
  struct Row {
    const char* mean;
    double per_month;
    const char* lead;
    double lead_months;
    const char* life;
    double life_months;
  };
  for (const Row& row :
       {Row{"10", 10.0, "1 month", 1.0, "2 month", 2.0}, Row{"0.5", 0.5, "0.5 month", 0.5, "12 month", 12.0},
        Row{"2", 2.0, "0.5 month", 0.5, "6 month", 6.0}}) {
    CAPTURE(row.mean);
    const ItemStudy item = studied(row.mean, std::string("order_cost = \"12 cr\"\nlead_time = \"") +
                                                 row.lead + "\"\nshelf_life = \"" + row.life + "\"\n");
    const ShelfRules rules{{row.lead_months, row.lead_months, row.lead_months}, row.life_months};
    const double cost = cost_of_quantity(row.per_month, rules, item.lot.quantity);
    CHECK(near_rel(item.cost.mean, cost, 0.03));
    for (const int quantity : {1, 2, 3, 4, 6, 8, 12}) {
      CAPTURE(quantity);
      CHECK(cost <= 1.02 * cost_of_quantity(row.per_month, rules, quantity));
    }
    CHECK(item.cycle_service->high() >= 0.95);
    CHECK(item.lot.quantity > 1);
  }
}
