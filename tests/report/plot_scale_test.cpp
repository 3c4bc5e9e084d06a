// SPDX-License-Identifier: MIT
#include "report/plot_scale.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include "support/near.h"

using namespace warmsheet::report;
using warmsheet::testing::near_abs;
using warmsheet::testing::near_rel;

TEST_CASE("steps are 1, 2 or 5 times a power of ten") {
  struct Row {
    double span;
    int wanted;
    double step;
  };
  for (const Row& row :
       {Row{600, 8, 100}, {47, 5, 10}, {0.03, 5, 0.01}, {8, 8, 1}, {16, 8, 2}, {40, 8, 5}, {900, 8, 200}}) {
    CAPTURE(row.span);
    CHECK(near_rel(round_step(row.span, row.wanted), row.step, 1e-12));
  }
}

TEST_CASE("ticks reach around the data and are multiples of the step") {
  const std::vector<double> ticks = ticks_around(23.4, 69.9, 10.0);
  REQUIRE(ticks.size() == 6);
  CHECK(near_abs(ticks.front(), 20.0, 1e-9));
  CHECK(near_abs(ticks.back(), 70.0, 1e-9));
  // A bound that is a multiple, but for the noise of 0.1 * 3, gets no extra tick.
  CHECK(ticks_around(0.0, 0.1 * 3.0, 0.1).size() == 4);
}

TEST_CASE("a few round ticks for any span") {
  CHECK(rc::check("tick counts", [] {
    const double low = *rc::gen::inRange(-100000, 100000) / 7.0;
    const double span = *rc::gen::inRange(1, 1000000) / 131.0;
    const std::vector<double> ticks = ticks_around(low, low + span, round_step(span, 8));
    RC_ASSERT(ticks.size() >= 3U);
    RC_ASSERT(ticks.size() <= 10U);
    RC_ASSERT(ticks.front() <= low + 1e-5 * span);
    RC_ASSERT(ticks.back() >= low + span - 1e-5 * span);
  }));
}

TEST_CASE("flags with room to their right cover neither each other nor each other's lines") {
  CHECK(rc::check("flags", [] {
    const auto count = *rc::gen::inRange<std::size_t>(1, 8);
    std::vector<Flag> flags;
    for (std::size_t i = 0; i < count; ++i)
      flags.push_back({*rc::gen::inRange(0, 150) * 1.0, *rc::gen::inRange(5, 60) * 1.0});
    place_flags(flags, 1000.0);
    for (const Flag& a : flags)
      for (const Flag& b : flags) {
        if (&a == &b) continue;
        const bool beside = a.text_mm + a.width_mm <= b.text_mm || b.text_mm + b.width_mm <= a.text_mm;
        RC_ASSERT(a.row != b.row || beside);
        const bool line_crosses =
            b.row >= a.row && b.line_mm > a.text_mm && b.line_mm < a.text_mm + a.width_mm;
        RC_ASSERT(!line_crosses);
      }
  }));
}

TEST_CASE("a flag at the right edge stays on the paper") {
  std::vector<Flag> flags{{160.0, 50.0}, {170.0, 30.0}};
  place_flags(flags, 178.0);
  for (const Flag& flag : flags) CHECK(flag.text_mm + flag.width_mm <= 178.0);
  CHECK(flags[0].row != flags[1].row);
}
