// SPDX-License-Identifier: MIT
// Slow movers: an order lasts longer than a stretch, and the exact model of unit demands still holds.
#include "stock/shelf_trial.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
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

ItemStudy slow_mover(const char* mean, const char* pack, const char* lead, const char* holding = "20 %") {
  static const library::Library library = library::load({});
  const std::string supply = std::string("watch = \"always\"\nservice = \"95 %\"\norder_cost = \"10 cr\"\n") +
                             "lead_time = \"" + lead + "\"\nholding = \"" + holding + "\"\n";
  const std::string item = std::string("pack = ") + pack + "\n[[item.price]]\nfrom = 1\neach = \"20 cr\"\n";
  StudyOptions options;
  options.months = 9600;
  options.projections = options.sizes = false;
  return study(parse_caseload(testing::one_sheet_each(mean, supply, item), "c.toml", library), library,
               options)
      .items.front();
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
    const ItemStudy item = slow_mover(row.mean, row.pack, row.lead);
    CHECK(item.lot.quantity == row.q);
    CHECK(item.policy.reorder_point == row.r);
    const Law cover = Law::poisson(row.per_month * row.lead_months);
    CHECK(std::abs(item.cycle_service->mean - cover.at_most(row.r)) <= 2.0 * item.cycle_service->half_width);
    CHECK(near_abs(item.fill_rate->mean, continuous_fill(cover, row.r, row.q), 0.002));
    const double on_hand = row.r + 0.5 * (row.q + 1) - cover.mean();
    CHECK(near_rel(item.on_hand.mean, on_hand, 0.02));
    const double cost = 20.0 * row.per_month + 10.0 * row.per_month / row.q + 20.0 * 0.2 / 12.0 * on_hand;
    // 9600 months of Poisson demand: four standard errors of the mean.
    CHECK(near_rel(item.cost.mean, cost, 4.0 / std::sqrt(9600.0 * row.per_month)));
  }
}

TEST_CASE("where holding costs nothing the goods still cost, and an order has an end") {
  const ItemStudy item = slow_mover("1", "1", "1 month", "0 %");
  CHECK(near_abs(item.lot.quantity, 60.0, 2.0));  // five years of the simulated mean, near one a month
  CHECK(near_rel(item.cost.mean, 20.0 + 10.0 / 60.0, 0.05));
}
