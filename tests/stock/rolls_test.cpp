// SPDX-License-Identifier: MIT
#include "stock/rolls.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "stock/demand.h"
#include "support.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::stock;
using testing::near_abs;
using testing::near_rel;

namespace {

/// One kind whose every orthosis takes one strap of a length.
struct Strapped {
  Caseload caseload;
  std::vector<KindPieces> kinds;
};

Strapped strapped(const library::Library& library, const std::string& per_month, double strap_m,
                  const std::string& more, const std::string& above = "") {
  Strapped made{parse_caseload("label = \"straps\"\n" + above + R"(
[supply]
lead_time = "0.5 month"
service = "95 %"
order_cost = "0 cr"
[[item]]
stock = "elastic-clear/3.2-solid"
on_hand = 1
[[roll]]
fixing = "strap-50"
roll = "0.2 m"
on_hand = "0.1 m"
[[kind]]
id = "a"
area = "200 cm2"
shaped_like = "volar-wrist"
stock = "elastic-clear/3.2-solid"
per_month = ")" + per_month + "\"\n" +
                                   more,
                               "c.toml", library),
                {}};
  PieceSize size{.share = 1.0,
                 .shape = testing::rectangle_shape(100, 200),
                 .area_mm2 = 2e4,
                 .edge_mm = 600,
                 .boxes = {},
                 .straps = {{"strap-50", strap_m}}};
  made.kinds.push_back({{size}, *made.caseload.kinds.front().area});
  return made;
}

}  // namespace

TEST_CASE("straps of one length are a Poisson law in steps of that length") {
  // Poisson(6) a month, half a month to cover: Poisson table of 3 gives 6 for 95 % (scipy 1.10.1).
  const library::Library library = library::load({});
  const Strapped s = strapped(library, "6", 0.2, "");
  const RollStudy roll = study_roll(s.caseload, s.caseload.rolls.front(), s.kinds);
  CHECK(near_rel(roll.metres.mean, 6 * 0.2, 1e-9));
  CHECK(near_abs(roll.metres.low, 2 * 0.2, 1e-9));  // 5 % and 95 % of Poisson(6)
  CHECK(near_abs(roll.metres.high, 10 * 0.2, 1e-9));
  CHECK(near_abs(roll.reorder_m, 6 * 0.2, 1e-9));
  CHECK(near_rel(roll.cycle_service, Law::poisson(3.0).at_most(6), 1e-9));
  CHECK(roll.to_order == 7);  // from 0.1 m up to 1.4 m in rolls of 0.2 m: 6.5, whole rolls only
}

TEST_CASE("orthoses made again take their straps again") {
  const library::Library library = library::load({});
  const Strapped s = strapped(library, "6", 0.2, "remake = \"20 %\"\n");
  // Wald's identity: 6 orthoses, each made 1/(1 - .2) times.
  CHECK(near_rel(study_roll(s.caseload, s.caseload.rolls.front(), s.kinds).metres.mean, 6 * 0.2 / 0.8, 1e-9));
}

TEST_CASE("remakes that come later than the time to cover leave the demand Poisson") {
  // Identity of the Poisson process: a thinned copy of it, moved on by two months, is independent of it over
  // half a month, so 3.75 orthoses are Poisson: 7 for 95 % (scipy.stats.poisson.ppf, 1.10.1). All remakes
  // counted with the first make would be wider.
  const library::Library library = library::load({});
  const Strapped s = strapped(library, "6", 0.2, "remake = \"20 %\"\nremake_after = \"2 month\"\n");
  const RollStudy roll = study_roll(s.caseload, s.caseload.rolls.front(), s.kinds);
  CHECK(near_abs(roll.reorder_m, 7 * 0.2, 1e-9));
  CHECK(near_rel(roll.cycle_service, Law::poisson(3.75).at_most(7), 1e-9));
}

TEST_CASE("straps with remakes agree with counting simulated orthoses") {
  // The other route: moments drawn one by one (demand.h), counted over half a month from each start of a
  // month; four standard errors.
  const library::Library library = library::load({});
  const std::string remakes = "remake = \"30 %\"\nremake_after = \"0.2 month\"\n";
  const Strapped s = strapped(library, "6", 0.2, remakes);
  const RollStudy roll = study_roll(s.caseload, s.caseload.rolls.front(), s.kinds);
  Demand demand;
  demand.kinds = {{.per_month = 6.0, .size_shares = {1.0}, .remake_chance = 0.3, .remake_after_months = 0.2}};
  constexpr int months = 40'000;
  std::vector<int> counted(months, 0);
  for (const Arrival& arrival : arrivals(demand, 1, months, false))
    if (arrival.month - std::floor(arrival.month) < 0.5) ++counted[static_cast<std::size_t>(arrival.month)];
  const int level = static_cast<int>(std::lround(roll.reorder_m / 0.2));
  double within = 0.0;
  for (const int count : counted) within += count <= level ? 1.0 / months : 0.0;
  CHECK(near_abs(within, roll.cycle_service,
                 4.0 * std::sqrt(roll.cycle_service * (1.0 - roll.cycle_service) / months)));
  CHECK(near_abs(roll.cover_mean_m, 0.5 * 6 / 0.7 * 0.2, 1e-9));
}

TEST_CASE("remakes of a history are counted like those of a mean") {
  // A history that is Poisson by itself cannot be told from the mean: 0 to 12 in their expected numbers
  // among 1000 months (Poisson(3), rounded), so the two laws agree within that rounding.
  const library::Library library = library::load({});
  const std::string remakes = "remake = \"30 %\"\nremake_after = \"0.2 month\"\n";
  Strapped s = strapped(library, "3", 0.2, remakes);
  const RollStudy of_mean = study_roll(s.caseload, s.caseload.rolls.front(), s.kinds);
  std::vector<int> months;
  const Law three = Law::poisson(3.0);
  for (int k = 0; k <= 12; ++k)
    months.insert(months.end(), static_cast<std::size_t>(std::lround(1000 * three.probability(k))), k);
  s.caseload.history = History{"h.csv", std::vector<std::string>(months.size(), "m"), {{"a", months}}};
  s.caseload.kinds.front().per_month.reset();
  s.caseload.kinds.front().column = "a";
  const RollStudy of_history = study_roll(s.caseload, s.caseload.rolls.front(), s.kinds);
  CHECK(near_rel(of_history.cover_mean_m, of_mean.cover_mean_m, 2e-3));
  CHECK(of_history.reorder_m == of_mean.reorder_m);
  CHECK(near_abs(of_history.cycle_service, of_mean.cycle_service, 2e-3));
}

TEST_CASE("straps follow the season") {
  // Half a year of twice the mean, half a year of none: a month is Poisson(12) or nothing, so its 95 % are
  // the 90 % of Poisson(12): 17 (scipy.stats.poisson.ppf, 1.10.1).
  const library::Library library = library::load({});
  const Strapped s = strapped(library, "6", 0.2, "", "season = [2, 2, 2, 2, 2, 2, 0, 0, 0, 0, 0, 0]\n");
  const RollStudy roll = study_roll(s.caseload, s.caseload.rolls.front(), s.kinds);
  CHECK(near_rel(roll.metres.mean, 6 * 0.2, 1e-9));
  CHECK(roll.metres.low == 0.0);
  CHECK(near_abs(roll.metres.high, 17 * 0.2, 1e-9));
}

TEST_CASE("a strap is counted a whole step longer, never shorter") {
  const library::Library library = library::load({});
  const Strapped s = strapped(library, "6", 0.201, "");
  CHECK(near_rel(study_roll(s.caseload, s.caseload.rolls.front(), s.kinds).metres.mean, 6 * 0.22, 1e-9));
}

TEST_CASE("a roll that nothing needs is not used") {
  const library::Library library = library::load({});
  Strapped s = strapped(library, "6", 0.2, "");
  s.kinds.front().sizes.front().straps.clear();
  CHECK(!study_roll(s.caseload, s.caseload.rolls.front(), s.kinds).used);
}
