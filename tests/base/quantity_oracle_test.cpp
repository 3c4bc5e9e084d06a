// SPDX-License-Identifier: MIT
// Units against published definitions, and against Boost.Units as a route that shares nothing with ours.
//
// Sources, from memory of documents that are public:
// - the international yard and pound agreement of 1959 (Federal Register, 24 FR 5348): 1 yd = 0.9144 m and
//   1 lb = 0.453 592 37 kg, both exactly; hence 1 in = 0.0254 m;
// - NIST Special Publication 811 (2008), appendix B.8: factors printed in bold are exact;
// - SI brochure, 9th edition (BIPM, 2019), section 2.3.1 (0 C = 273.15 K) and table 8 (min, h, d, degree,
// litre).
#include <doctest/doctest.h>

#include <boost/units/absolute.hpp>
#include <boost/units/base_units/imperial/foot.hpp>
#include <boost/units/base_units/metric/minute.hpp>
#include <boost/units/base_units/us/inch.hpp>
#include <boost/units/base_units/us/pound.hpp>
#include <boost/units/quantity.hpp>
#include <boost/units/systems/si.hpp>
#include <boost/units/systems/temperature/celsius.hpp>
#include <boost/units/systems/temperature/fahrenheit.hpp>

#include "base/quantity.h"
#include "support/near.h"

namespace warmsheet {
namespace {

using testing::near_abs;
using testing::near_rel;
using D = Dimension;
namespace bu = boost::units;

// Both routes round a product and a quotient.
constexpr double few_roundings = 1e-15;
// A kelvin value near 343 holds steps of 6e-14 K; two sums.
constexpr double kelvin_rounding_K = 2e-13;

TEST_SUITE("quantity oracle") {
  TEST_CASE("units are what the standards say they are") {
    const struct {
      const char* text;
      D dimension;
      double si;
      double tolerance;  // relative; half a unit of the last printed digit where the table rounds
      const char* source;
    } rows[] = {
        {"36 in", D::length, 0.9144, few_roundings, "1959 agreement: 1 yd = 0.9144 m"},
        {"3 ft", D::length, 0.9144, few_roundings, "1959 agreement"},
        {"1 in", D::length, 2.54e-2, few_roundings, "SP 811 B.8, inch, exact"},
        {"1 ft", D::length, 3.048e-1, few_roundings, "SP 811 B.8, foot, exact"},
        {"1 um", D::length, 1e-6, few_roundings, "SP 811 B.8, micron, exact"},
        {"1 in2", D::area, 6.4516e-4, few_roundings, "SP 811 B.8, square inch, exact"},
        {"1 ft2", D::area, 9.290304e-2, few_roundings, "SP 811 B.8, square foot, exact"},
        {"1 lb", D::mass, 0.45359237, few_roundings, "1959 agreement"},
        {"1 oz", D::mass, 2.834952e-2, 2e-7, "SP 811 B.8, ounce (avoirdupois), seven digits"},
        {"16 oz", D::mass, 0.45359237, few_roundings, "1 lb = 16 oz avoirdupois"},
        {"1 min", D::duration, 60, few_roundings, "SI brochure, table 8"},
        {"1 h", D::duration, 3600, few_roundings, "SI brochure, table 8"},
        {"1 d", D::duration, 86400, few_roundings, "SI brochure, table 8"},
        {"1 wk", D::duration, 6.048e5, few_roundings, "seven days"},
        {"1 yr", D::duration, 146097.0 * 86400.0 / 400.0, few_roundings,
         "Gregorian calendar: 146 097 days in 400 years"},
        {"12 month", D::duration, 146097.0 * 86400.0 / 400.0, few_roundings, "Gregorian calendar"},
        {"1 l", D::volume, 1e-3, few_roundings, "SI brochure, table 8"},
        {"1 deg", D::angle, 1.745329e-2, 2e-7, "SP 811 B.8, degree, seven digits"},
        {"1 g/cm3", D::density, 1e3, few_roundings, "SP 811 B.8, exact"},
        {"1/8 in", D::length, 3.175e-3, few_roundings, "25.4 mm / 8"},
    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.text));
      CAPTURE(std::string(row.source));
      CHECK(near_rel(parse_quantity(row.text, row.dimension).si, row.si, row.tolerance));
    }
  }

  TEST_CASE("fixed points of the temperature scales agree") {
    // SP 811 B.8: T/K = (t/F + 459.67)/1.8, exact. Printed to the last digit of the scale's definition.
    const struct {
      const char* one;
      const char* other;
    } rows[] = {
        {"32 F", "0 C"},   {"212 F", "100 C"},   {"-40 F", "-40 C"}, {"98.6 F", "37 C"},
        {"158 F", "70 C"}, {"32 F", "273.15 K"}, {"-4 F", "-20 C"},  {"572 F", "573.15 K"},
    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.one));
      CHECK(near_abs(parse_quantity(row.one, D::temperature).si, parse_quantity(row.other, D::temperature).si,
                     kelvin_rounding_K));
    }
    // 150 F = 65.5556 C to four decimals.
    CHECK(near_abs(units::celsius().from_si(parse_quantity("150 F", D::temperature).si), 65.5556, 5e-5));
  }

  TEST_CASE("Boost.Units comes to the same lengths, masses and times") {
    using inch = bu::us::inch_base_unit::unit_type;
    using foot = bu::imperial::foot_base_unit::unit_type;
    using pound = bu::us::pound_base_unit::unit_type;
    using minute = bu::metric::minute_base_unit::unit_type;
    for (const double number : {0.03125, 0.125, 1.0, 17.3, 96.0}) {
      CAPTURE(number);
      const auto written = [&](const char* unit) { return std::to_string(number) + " " + unit; };
      const bu::quantity<bu::si::length> inches(number * inch());
      CHECK(near_rel(parse_quantity(written("in"), D::length).si, inches.value(), few_roundings));
      const bu::quantity<bu::si::length> feet(number * foot());
      CHECK(near_rel(parse_quantity(written("ft"), D::length).si, feet.value(), few_roundings));
      const bu::quantity<bu::si::mass> pounds(number * pound());
      CHECK(near_rel(parse_quantity(written("lb"), D::mass).si, pounds.value(), few_roundings));
      const bu::quantity<bu::si::time> minutes(number * minute());
      CHECK(near_rel(parse_quantity(written("min"), D::duration).si, minutes.value(), few_roundings));
      const bu::quantity<bu::si::area> square(number * inch() * inch());
      CHECK(near_rel(parse_quantity(written("in2"), D::area).si, square.value(), few_roundings));
    }
  }

  TEST_CASE("Boost.Units comes to the same temperatures and differences") {
    using fahrenheit = bu::fahrenheit::temperature;
    using celsius = bu::celsius::temperature;
    for (const double number : {-40.0, 0.0, 32.0, 98.6, 150.0, 158.0, 170.0, 212.0}) {
      CAPTURE(number);
      const auto written = [&](const char* unit) { return std::to_string(number) + " " + unit; };
      const bu::quantity<bu::absolute<bu::si::temperature>> from_F(number * bu::absolute<fahrenheit>());
      CHECK(near_abs(parse_quantity(written("F"), D::temperature).si, from_F.value(), kelvin_rounding_K));
      const bu::quantity<bu::absolute<bu::si::temperature>> from_C(number * bu::absolute<celsius>());
      CHECK(near_abs(parse_quantity(written("C"), D::temperature).si, from_C.value(), kelvin_rounding_K));
      const bu::quantity<bu::si::temperature> steps(number * fahrenheit());
      CHECK(near_abs(parse_quantity(written("dF"), D::temperature_difference).si, steps.value(),
                     kelvin_rounding_K));
    }
  }
}

}  // namespace
}  // namespace warmsheet
