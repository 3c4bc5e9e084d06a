// SPDX-License-Identifier: MIT
// What people type and what it must mean. Expected values are written in SI by hand from the definitions
// 1 in = 25.4 mm (1959), 0 C = 273.15 K and 1 F = 5/9 K; tests/base/quantity_oracle_test.cpp names the
// sources.
#include "base/quantity.h"

#include <doctest/doctest.h>

#include <string>

#include "base/failing.h"
#include "support/near.h"

namespace warmsheet {
namespace {

using testing::near_rel;
using D = Dimension;

// Every conversion is at most a multiplication, a division and a sum.
constexpr double few_roundings = 4e-16;

struct Row {
  const char* text;
  D dimension;
  double si;
  const char* unit;
};

TEST_SUITE("quantity") {
  TEST_CASE("lengths are read in every form that people write") {
    const Row rows[] = {
        {"3.2mm", D::length, 0.0032, "mm"},
        {"3.2 mm", D::length, 0.0032, "mm"},
        {"  3.2   mm  ", D::length, 0.0032, "mm"},
        {".125 in", D::length, 0.003175, "in"},
        {"3. mm", D::length, 0.003, "mm"},
        {"+3 mm", D::length, 0.003, "mm"},
        {"1/8 in", D::length, 0.003175, "in"},
        {"1/8in", D::length, 0.003175, "in"},
        {"1 / 8 in", D::length, 0.003175, "in"},
        {"1\u20448 in", D::length, 0.003175, "in"},  // fraction slash
        {"1 1/8 in", D::length, 0.028575, "in"},
        {"1-1/8 in", D::length, 0.028575, "in"},
        {"1  1/8\"", D::length, 0.028575, "in"},
        {"5 1/2 in", D::length, 0.1397, "in"},
        {"½ in", D::length, 0.0127, "in"},
        {"1½ in", D::length, 0.0381, "in"},
        {"1 ½ in", D::length, 0.0381, "in"},
        {"1-½ in", D::length, 0.0381, "in"},
        {"⅛″", D::length, 0.003175, "in"},
        {"0.125\"", D::length, 0.003175, "in"},
        {"0.125”", D::length, 0.003175, "in"},
        {"11/4 in", D::length, 0.06985, "in"},
        {"5 ft 3 in", D::length, 1.6002, "in"},
        {"5'3\"", D::length, 1.6002, "in"},
        {"5' 3 1/2\"", D::length, 1.6129, "in"},
        {"5 ft 3 1/2 in", D::length, 1.6129, "in"},
        {"1 m 20 cm 5 mm", D::length, 1.205, "mm"},
        {"2 inches", D::length, 0.0508, "in"},
        {"32 millimetres", D::length, 0.032, "mm"},
        {"1e3 mm", D::length, 1.0, "mm"},
        {"100 um", D::length, 1e-4, "um"},
        {"100 µm", D::length, 1e-4, "um"},
        {"100 μm", D::length, 1e-4, "um"},
        {"3.2\u00a0mm", D::length, 0.0032, "mm"},  // no-break space
        {"3.2\u202fmm", D::length, 0.0032, "mm"},  // narrow no-break space
        {"3.2 mm\u00a0", D::length, 0.0032, "mm"},
        {"\u20093.2 mm", D::length, 0.0032, "mm"},  // thin space
        {"0 mm", D::length, 0.0, "mm"},
    };
    for (const Row& row : rows) {
      CAPTURE(std::string(row.text));
      const Written seen = parse_quantity(row.text, row.dimension);
      CHECK(near_rel(seen.si, row.si, few_roundings));
      CHECK(seen.unit->id == row.unit);
    }
  }

  TEST_CASE("other kinds are read in every form that people write") {
    const Row rows[] = {
        {"70C", D::temperature, 343.15, "degC"},
        {"70 °C", D::temperature, 343.15, "degC"},
        {"70 ºC", D::temperature, 343.15, "degC"},  // the ordinal sign of some keyboards
        {"70 ℃", D::temperature, 343.15, "degC"},
        {"70 deg C", D::temperature, 343.15, "degC"},
        {"70 degrees C", D::temperature, 343.15, "degC"},
        {"158F", D::temperature, 343.15, "degF"},
        {"158 °F", D::temperature, 343.15, "degF"},
        {"343.15 K", D::temperature, 343.15, "K"},
        {"-5 C", D::temperature, 268.15, "degC"},
        {"−5 C", D::temperature, 268.15, "degC"},  // the true minus sign
        {"23 F", D::temperature, 268.15, "degF"},
        {"-40 F", D::temperature, 233.15, "degF"},
        {"5 K", D::temperature_difference, 5.0, "K"},
        {"9 dF", D::temperature_difference, 5.0, "dF"},
        {"5 dC", D::temperature_difference, 5.0, "dC"},
        {"-5 K", D::temperature_difference, -5.0, "K"},
        {"2 min 30 s", D::duration, 150.0, "s"},
        {"2min30s", D::duration, 150.0, "s"},
        {"2 1/2 min", D::duration, 150.0, "min"},
        {"1 h 2 min 3 s", D::duration, 3723.0, "s"},
        {"1h30min", D::duration, 5400.0, "min"},
        {"90 seconds", D::duration, 90.0, "s"},
        {"3 weeks", D::duration, 1814400.0, "wk"},
        {"410cm2", D::area, 0.041, "cm2"},
        {"410 cm²", D::area, 0.041, "cm2"},
        {"410 cm^2", D::area, 0.041, "cm2"},
        {"64 in2", D::area, 0.04129024, "in2"},
        {"64 sq in", D::area, 0.04129024, "in2"},
        {"64 1/2 in2", D::area, 0.04161282, "in2"},
        {"400 W/m2K", D::film_coefficient, 400.0, "W/m2K"},
        {"400 W/(m² K)", D::film_coefficient, 400.0, "W/m2K"},
        {"0.2 W/(m K)", D::conductivity, 0.2, "W/mK"},
        {"0.2 W/(m·K)", D::conductivity, 0.2, "W/mK"},
        {"1.145 g/cm3", D::density, 1145.0, "g/cm3"},
        {"5 1/s", D::rate, 5.0, "1/s"},
        {"1/2 1/s", D::rate, 0.5, "1/s"},
        {"5 /s", D::rate, 5.0, "1/s"},
        {"3.1e98 1/s", D::rate, 3.1e98, "1/s"},
        {"1.6e-4 1/K", D::expansion, 1.6e-4, "1/K"},
        {"180 deg", D::angle, 3.14159265358979323846, "deg"},
        {"180°", D::angle, 3.14159265358979323846, "deg"},
        {"0.5", D::ratio, 0.5, "1"},
        {"50 %", D::ratio, 0.5, "%"},
        {"50%", D::ratio, 0.5, "%"},
        {"1/2", D::ratio, 0.5, "1"},
        {"38 EUR", D::money, 38.0, "EUR"},
    };
    for (const Row& row : rows) {
      CAPTURE(std::string(row.text));
      const Written seen = parse_quantity(row.text, row.dimension);
      CHECK(near_rel(seen.si, row.si, few_roundings));
      CHECK(seen.unit->id == row.unit);
    }
  }

  TEST_CASE("currencies are never converted") {
    for (const Unit* currency : units_of(Dimension::money)) {
      CAPTURE(std::string(currency->id));
      CHECK(currency->to_si(38.0) == 38.0);
      CHECK(currency->from_si(38.0) == 38.0);
    }
  }

  TEST_CASE("nothing of a substance can weigh, conduct or store nothing, and all else may be zero") {
    for (const Dimension dimension : all_dimensions()) {
      CAPTURE(std::string(dimension_word(dimension)));
      const bool of_matter = dimension == Dimension::density || dimension == Dimension::conductivity ||
                             dimension == Dimension::specific_heat ||
                             dimension == Dimension::thermal_effusivity;
      CHECK(physical_bounds(dimension).low_excluded == of_matter);
    }
  }

  TEST_CASE("a typed negative zero is a plain zero") {
    CHECK_FALSE(std::signbit(parse_quantity("-0 K", D::temperature_difference).si));
  }

  TEST_CASE("sizes take their unit once or twice") {
    const struct {
      const char* text;
      double width_m;
      double height_m;
    } rows[] = {
        {"600 x 450 mm", 0.6, 0.45},          {"600mmx450mm", 0.6, 0.45},
        {"600 mm × 45 cm", 0.6, 0.45},        {"18 x 24 in", 0.4572, 0.6096},
        {"18\" x 24\"", 0.4572, 0.6096},      {"12in x 18in", 0.3048, 0.4572},
        {"8 1/2 x 11 in", 0.2159, 0.2794},    {"8½ x 11 in", 0.2159, 0.2794},
        {"8½\" X 11\"", 0.2159, 0.2794},      {"600 by 450 mm", 0.6, 0.45},
        {"1 ft 6 in x 2 ft", 0.4572, 0.6096}, {"600\u00a0x\u00a0450\u00a0mm", 0.6, 0.45},
    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.text));
      const WrittenSize seen = parse_size(row.text);
      CHECK(near_rel(seen.width.si, row.width_m, few_roundings));
      CHECK(near_rel(seen.height.si, row.height_m, few_roundings));
    }
  }

  TEST_CASE("what is written for a file is short, and reads back to the last bit") {
    const struct {
      const char* typed;
      D dimension;
      const char* written;
    } rows[] = {
        {"1 1/2 in", D::length, "1.5 in"},
        {"3.2 mm", D::length, "3.2 mm"},
        {"70 C", D::temperature, "70 C"},
        {"158 F", D::temperature, "158 F"},
        {"0.3", D::ratio, "0.3"},
        {"7 %", D::ratio, "7 %"},
        {"64 in2", D::area, "64 in2"},
        {"2 min 30 s", D::duration, "150 s"},
        {"9 dF", D::temperature_difference, "9 dF"},
        {"5 1/s", D::rate, "5 1/s"},
    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.typed));
      const Written seen = parse_quantity(row.typed, row.dimension);
      CHECK(write_exact(seen.si, *seen.unit) == row.written);
      CHECK(parse_quantity(row.written, row.dimension).si == seen.si);
    }
  }

  template <class A, class B>
  concept Addable = requires(A a, B b) {
    a + b;
  };
  template <class A, class B>
  concept Comparable = requires(A a, B b) {
    a < b;
  };

  // A type that let two temperatures be added, or a length be compared with an area, would make slips
  // compile.
  static_assert(Addable<Length, Length> && !Addable<Length, Area> && !Addable<Length, double>);
  static_assert(Addable<Temperature, TemperatureDifference> && !Addable<Temperature, Temperature>);
  static_assert(std::is_same_v<decltype(Temperature{} - Temperature{}), TemperatureDifference>);
  static_assert(Comparable<Length, Length> && !Comparable<Length, Area>);

  TEST_CASE("a difference added to a temperature is a temperature") {
    const Temperature warm = parse<D::temperature>("70 C") + parse<D::temperature_difference>("9 dF");
    CHECK(near_rel(warm.si, 348.15, few_roundings));
    CHECK(near_rel((warm - parse<D::temperature>("158 F")).si, 5.0, 1e-13));
  }
}

}  // namespace
}  // namespace warmsheet
