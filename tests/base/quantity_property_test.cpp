// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "base/problem.h"
#include "base/quantity.h"
#include "base/text.h"

namespace warmsheet {
namespace {

/// Values of every size that a kind can have, not only those near its upper bound.
double value_within(const PhysicalBounds& bounds) {
  const double share = *rc::gen::inRange(0, 1000001) / 1e6;
  if (bounds.low < 0.0 || bounds.low > 1.0) return bounds.low + share * (bounds.high - bounds.low);
  return bounds.high * std::pow(10.0, -12.0 * share);
}

TEST_SUITE("quantity property") {
  TEST_CASE("every value in every unit is written so that exactly the same value is read") {
    CHECK(rc::check([] {
      for (const Dimension dimension : all_dimensions()) {
        const double si = value_within(physical_bounds(dimension));
        for (const Unit* unit : units_of(dimension)) {
          const std::string text = write_exact(si, *unit);
          const Written seen = parse_quantity(text, dimension);
          RC_LOG() << text << '\n';
          RC_ASSERT(seen.si == si);
        }
      }
    }));
  }

  TEST_CASE("every value is written in its own unit unless that unit has no number for it") {
    CHECK(rc::check([] {
      const double typed = *rc::gen::inRange(1, 100000) / 100.0;
      for (const Unit* unit : units_of(Dimension::length))
        RC_ASSERT(write_exact(unit->to_si(typed * 1e-3), *unit).ends_with(" " + std::string(unit->ascii)));
    }));
  }

  TEST_CASE("every spelling of a unit that is offered is read as that unit") {
    for (const Dimension dimension : all_dimensions()) {
      for (const std::string& spelling : spellings_of(dimension)) {
        if (spelling == "1") continue;  // the unit of a ratio is left out in text
        CAPTURE(spelling);
        const Unit& unit = *find_unit(dimension, spelling);
        // In the kelvin scale nothing near one is possible.
        const std::string number = dimension == Dimension::temperature && unit.shift == 0.0 ? "300 " : "0.5 ";
        const Written seen = parse_quantity(number + spelling, dimension);
        CHECK(seen.unit->size_si() == unit.size_si());
        CHECK(seen.unit->shift == unit.shift);
      }
    }
  }

  TEST_CASE("no spelling stands for two units of one kind") {
    for (const Dimension dimension : all_dimensions()) {
      std::set<std::string> seen;
      for (const std::string& spelling : spellings_of(dimension)) {
        CAPTURE(spelling);
        CHECK(seen.insert(spelling).second);
      }
      const auto units = units_of(dimension);
      CHECK_FALSE(units.empty());
      const bool has_si = std::any_of(units.begin(), units.end(), [](const Unit* unit) {
        return unit->size_si() == 1.0 && unit->shift == 0.0;
      });
      CHECK(has_si);
    }
  }

  TEST_CASE("a fraction and its decimal are the same number") {
    CHECK(rc::check([] {
      const int whole = *rc::gen::inRange(0, 100);
      const int parts = 1 << *rc::gen::inRange(1, 7);
      const int numerator = *rc::gen::inRange(1, parts);
      const double decimal = whole + static_cast<double>(numerator) / parts;
      const std::string mixed =
          std::to_string(whole) + " " + std::to_string(numerator) + "/" + std::to_string(parts);
      const double seen = parse_quantity(mixed + " in", Dimension::length).si;
      RC_ASSERT(seen == units_of(Dimension::length)[4]->to_si(decimal));
    }));
  }

  TEST_CASE("any text is either read to a finite value within bounds or refused in words") {
    const std::string alphabet = "0123456789./-+, \t'\"mcinftsFCKd%½°x\xc2\xa0\xff";
    CHECK(rc::check([&] {
      const auto picks =
          *rc::gen::container<std::vector<std::size_t>>(rc::gen::inRange<std::size_t>(0, alphabet.size()));
      std::string text;
      for (const std::size_t pick : picks) text += alphabet[pick];
      for (const Dimension dimension : all_dimensions()) {
        try {
          const Written seen = parse_quantity(text, dimension);
          const PhysicalBounds bounds = physical_bounds(dimension);
          RC_ASSERT(std::isfinite(seen.si));
          RC_ASSERT(seen.si >= bounds.low - rounding_slack(bounds.low));
          RC_ASSERT(seen.si <= bounds.high + rounding_slack(bounds.high));
        } catch (const Failure& failure) {
          RC_ASSERT(std::string(failure.what()).size() > 20U);
        }
      }
    }));
  }
}

}  // namespace
}  // namespace warmsheet
