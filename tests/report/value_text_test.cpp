// SPDX-License-Identifier: MIT
#include "report/value_text.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <cmath>
#include <optional>

#include "report/random_document.h"
#include "report/sample.h"
#include "report/writers.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::report;

namespace {

const Unit& unit(Dimension dimension, const char* id) {
  const Unit* found = find_unit(dimension, id);
  REQUIRE(found != nullptr);
  return *found;
}

/// A computed figure given in its unit.
Figure computed(double value, double low, double high, const Unit& unit) {
  return sample::computed("figure", {unit.to_si(value), unit.to_si(low), unit.to_si(high)}, unit);
}
Figure written(double value, double low, double high, const Unit& unit) {
  return sample::stated("figure", {unit.to_si(value), unit.to_si(low), unit.to_si(high)}, unit,
                        Basis::handbook);
}

}  // namespace

TEST_CASE("computed figures get the digits that their range allows") {
  const Unit& mm = units::millimetre();
  struct Row {
    Figure figure;
    const char* text;
  };
  const std::vector<Row> rows{
      {computed(3.2, 3.0, 3.4, mm), "3.2 mm (3.0 to 3.4) [M]"},
      {computed(3.2041, 2.9512, 3.4488, mm), "3.2 mm (2.9 to 3.5) [M]"},
      {computed(1234.4, 1230.0, 1238.0, mm), "1234 mm (1230 to 1238) [M]"},
      {computed(1234.4, 1100.0, 1400.0, mm), "1230 mm (1100 to 1400) [M]"},
      {computed(609.6, 609.6, 609.6, mm), "610 mm [M]"},
      {computed(12.3456, 12.3456, 12.3456, mm), "12.3 mm [M]"},
      {computed(70.0, 65.0, 75.0, units::celsius()), "70 C (65 to 75) [M]"},
      {computed(65.5556, 65.5556, 65.5556, units::celsius()), "65.6 C [M]"},
      {computed(42.24, 40.81, 42.88, units::celsius()), "42.2 C (40.8 to 42.9) [M]"},
      {computed(412.3, 402.0, 419.0, units::square_centimetre()), "412 cm2 (402 to 419) [M]"},
      {computed(72.4, 72.4, 72.4, units::percent()), "72.4 % [M]"},
      {computed(2.0, 2.0, 2.0, units::one()), "2 [M]"},
      {computed(12.37, 5.0, 20.2, units::one()), "12 (5 to 21) [M]"},
      {computed(3.0, 2.0, 3.0, units::one()), "3 (2 to 3) [M]"},
      {computed(0.0004, 0.00001, 0.002, units::one()), "0.0004 (0.00001 to 0.0020) [M]"},
      {computed(0.5312, 0.1, 5.0, units::one()), "0.5 (0.1 to 5) [M]"},
      {computed(1e-9, 0.0, 2e-9, units::one()), "under 0.000001 (0 to 0.000001) [M]"},
      {computed(0.0, 0.0, 0.0, units::one()), "0 [M]"},
      {computed(45.0, 45.0, 45.0, unit(Dimension::angle, "deg")), "45 deg [M]"},
      {computed(3.1e98, 3.1e98, 3.1e98, unit(Dimension::rate, "1/s")), "3.1e98 1/s [M]"},
      {computed(1.2e-7, 1.04e-7, 1.4e-7, unit(Dimension::diffusivity, "m2/s")),
       "1.2e-7 m2/s (1.04e-7 to 1.4e-7) [M]"},
      {computed(12.5, 12.5, 12.5, unit(Dimension::money, "EUR")), "12.50 EUR [M]"},
      {computed(480.0, 421.0, 541.0, unit(Dimension::money, "cr")), "480 cr (420 to 550) [M]"},
      {computed(1500.0, 1500.0, 1500.0, unit(Dimension::money, "JPY")), "1500 JPY [M]"},
      {computed(14.0, 14.0, 14.0, unit(Dimension::duration, "d")), "14 d [M]"}};
  for (const Row& row : rows) {
    CAPTURE(row.text);
    CHECK(marked_value(row.figure) == row.text);
  }
}

TEST_CASE("figures read in a source keep the digits written there") {
  const Unit& conductivity = unit(Dimension::conductivity, "W/mK");
  CHECK(marked_value(written(0.187, 0.16, 0.21, conductivity)) == "0.187 W/mK (0.160 to 0.210) [H]");
  CHECK(marked_value(written(3.175, 3.175, 3.175, units::millimetre())) == "3.175 mm [H]");
  CHECK(marked_value(written(75000.0, 75000.0, 75000.0, unit(Dimension::molar_energy, "J/mol"))) ==
        "75000 J/mol [H]");
  CHECK(marked_value(written(41.5, 41.5, 41.5, unit(Dimension::money, "EUR"))) == "41.50 EUR [H]");
  CHECK(marked_value(written(12.5, 12.5, 12.5, units::second())) == "12.5 s [H]");
}

TEST_CASE("times read as on a stopwatch") {
  struct Row {
    double value_s;
    double low_s;
    double high_s;
    const char* text;
  };
  const std::vector<Row> rows{{20, 20, 20, "20 s"},
                              {20, 15, 26, "20 s (15 to 26)"},
                              {7.53, 7.53, 7.53, "7.5 s"},
                              {59.7, 59.7, 59.7, "1 min"},
                              {150, 150, 150, "2 min 30 s"},
                              {120, 120, 120, "2 min"},
                              {130.3, 99.8, 171.2, "2 min 10 s (1 min 35 s to 2 min 55 s)"},
                              {50, 40, 70, "50 s (40 s to 1 min 10 s)"},
                              {3905, 3905, 3905, "1 h 5 min"},
                              {3600, 3600, 3600, "1 h"},
                              {0, 0, 0, "0 s"},
                              {-20, -20, -20, "-20 s"},
                              {0.034, 0.034, 0.034, "0.03 s"}};
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const Figure figure = sample::computed("time", {row.value_s, row.low_s, row.high_s}, units::second());
    CHECK(marked_value(figure) == std::string(row.text) + " [M]");
    CHECK(marked_value(figure.in(unit(Dimension::duration, "min"))) == std::string(row.text) + " [M]");
  }
}

TEST_CASE("pages get symbols where terminals get ASCII") {
  const Figure area = computed(412.0, 412.0, 412.0, units::square_centimetre());
  CHECK(value_text(area, Glyphs::ascii).value == "412 cm2");
  CHECK(value_text(area, Glyphs::symbols).value == "412 cm²");
  CHECK(value_text(computed(70, 70, 70, units::celsius()), Glyphs::symbols).value == "70 °C");
  CHECK(value_text(computed(45, 45, 45, unit(Dimension::angle, "deg")), Glyphs::symbols).value == "45°");
  CHECK(value_text(computed(1.2e-7, 1.2e-7, 1.2e-7, unit(Dimension::diffusivity, "m2/s")), Glyphs::symbols)
            .value == "1.2 × 10⁻⁷ m²/s");
}

TEST_CASE("the plain value is the marked one without range and mark") {
  CHECK(plain_value(computed(3.2, 3.0, 3.4, units::millimetre())) == "3.2 mm");
}

namespace {

/// The number at the start of a shown value, if it is a plain one.
std::optional<double> number_of(const std::string& text) {
  if (text.rfind("under ", 0) == 0) return 0.0;
  std::size_t used = 0;
  const double number = std::stod(text, &used);
  return number;
}

bool is_composed(const Figure& figure) {
  return figure.unit().id == "s" || figure.unit().id == "min" || figure.unit().id == "h";
}

}  // namespace

TEST_CASE("the range shown holds the range meant, and the value shown lies in it") {
  CHECK(rc::check("outward bounds", [](std::uint32_t seed) {
    std::mt19937 random(seed);
    const Figure figure = sample::random_figure(random);
    const ValueText shown = value_text(figure, Glyphs::ascii);
    if (is_composed(figure) || !shown.has_range()) return;
    const double low = *number_of(shown.low);
    const double high = *number_of(shown.high);
    const double value = *number_of(shown.value);
    // A range narrower than the last place shown is rounded to the nearest; half a unit of the third digit
    // then.
    const double slack =
        0.5e-2 * std::max({std::abs(figure.value()), std::abs(figure.low()), std::abs(figure.high())});
    RC_ASSERT(low <= figure.low() + slack);
    RC_ASSERT(high >= figure.high() - slack);
    RC_ASSERT(low <= value + slack);
    RC_ASSERT(value <= high + slack);
  }));
}

TEST_CASE("no figure is shown further from its value than its range or its third digit allow") {
  CHECK(rc::check("rounding", [](std::uint32_t seed) {
    std::mt19937 random(seed);
    const Figure figure = sample::random_figure(random);
    if (is_composed(figure)) return;
    const double shown = *number_of(value_text(figure, Glyphs::ascii).value);
    const double third_digit = 0.5e-2 * std::abs(figure.value());
    const double in_range = (figure.high() - figure.low()) / 8.0;
    // Temperatures end at a tenth, money at a hundredth; ratios below a millionth are called "under" it.
    const double last_place = figure.dimension() == Dimension::temperature ? 0.05
                              : figure.dimension() == Dimension::money     ? 0.5
                              : figure.dimension() == Dimension::ratio     ? 1e-6
                                                                           : 0.0;
    RC_ASSERT(std::abs(shown - figure.value()) <=
              std::max({third_digit, in_range, last_place}) * (1.0 + 1e-9));
  }));
}

TEST_CASE("every shown figure ends in its mark") {
  CHECK(rc::check("marks", [](std::uint32_t seed) {
    std::mt19937 random(seed);
    const Figure figure = sample::random_figure(random);
    const std::string text = marked_value(figure);
    RC_ASSERT(text.substr(text.size() - 4) == std::string(" [") + basis_mark(figure.basis()) + "]");
  }));
}

TEST_CASE("coordinates are written in fixed point without trailing zeros") {
  CHECK(fixed(12.5, 3) == "12.5");
  CHECK(fixed(100.0, 3) == "100");
  CHECK(fixed(-0.0001, 3) == "0");
  CHECK(fixed(1e-5, 3) == "0");
  CHECK(fixed(123456.789012, 4) == "123456.789");
}
