// SPDX-License-Identifier: MIT
#include "stock/rolls.h"

#include <doctest/doctest.h>

#include <cmath>

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
                  const std::string& more) {
  Strapped made{parse_caseload(R"(label = "straps"
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
  const RollStudy roll = study_roll(s.caseload, s.caseload.rolls.front(), 4.5, s.kinds);
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
  CHECK(near_rel(study_roll(s.caseload, s.caseload.rolls.front(), 4.5, s.kinds).metres.mean, 6 * 0.2 / 0.8,
                 1e-9));
}

TEST_CASE("a strap is counted a whole step longer, never shorter") {
  const library::Library library = library::load({});
  const Strapped s = strapped(library, "6", 0.201, "");
  CHECK(near_rel(study_roll(s.caseload, s.caseload.rolls.front(), 4.5, s.kinds).metres.mean, 6 * 0.22, 1e-9));
}

TEST_CASE("a roll that nothing needs is not used") {
  const library::Library library = library::load({});
  Strapped s = strapped(library, "6", 0.2, "");
  s.kinds.front().sizes.front().straps.clear();
  CHECK(!study_roll(s.caseload, s.caseload.rolls.front(), 4.5, s.kinds).used);
}
