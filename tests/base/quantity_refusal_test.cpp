// SPDX-License-Identifier: MIT
// What must not be read, and what is said instead. A refusal helps only if it names what was seen and shows a
// form that would be taken, so both are checked in every row.
#include <doctest/doctest.h>

#include <string>

#include "base/failing.h"
#include "base/quantity.h"
#include "base/text.h"

namespace warmsheet {
namespace {

using testing::holds;
using testing::refusal_of;
using D = Dimension;

struct Row {
  const char* text;
  D dimension;
  const char* why;
  const char* hint;
};

std::string refusal(std::string_view text, D dimension) {
  return refusal_of([&] { parse_quantity(text, dimension); });
}

void check(const Row& row) {
  CAPTURE(std::string(row.text));
  const std::string seen = refusal(row.text, row.dimension);
  CAPTURE(seen);
  CHECK(holds(seen, row.why));
  CHECK(holds(seen, row.hint));
  CHECK(holds(seen, std::string(dimension_word(row.dimension))));
}

TEST_SUITE("quantity refusal") {
  TEST_CASE("a number without a unit is refused with units to choose from") {
    for (const Row& row : {
             Row{"3.2", D::length, "the unit is missing", "units: mm, cm, m, um, in, ft"},
             Row{"1/8", D::length, "the unit is missing", "3.2 mm or 1/8 in"},
             Row{"70", D::temperature, "the unit is missing", "70 C or 158 F"},
             Row{"410", D::area, "the unit is missing", "410 cm2 or 64 in2"},
             Row{"90", D::duration, "the unit is missing", "2 min 30 s"},
             Row{"2 min 30", D::duration, "the unit is missing", "90 s or 2 min 30 s"},
             Row{"5 ft 3", D::length, "the unit is missing", "1/8 in"},
             Row{"5", D::temperature_difference, "the unit is missing", "5 K or 9 dF"},
             Row{"400", D::film_coefficient, "the unit is missing", "400 W/m2K"},
         })
      check(row);
  }

  TEST_CASE("commas are refused without guessing what they mean") {
    for (const Row& row : {
             Row{"3,2 mm", D::length, "commas are not read", "write 3.2 mm"},
             Row{"0,125\"", D::length, "commas are not read", "0.125\" if the comma marks decimals"},
             Row{"1,000 mm", D::length, "commas are not read", "write 1000 mm for thousands, or 1.000 mm"},
             Row{"1,234,567 mm", D::length, "commas are not read", "without commas"},
             Row{"70,5 C", D::temperature, "commas are not read", "write 70.5 C"},
             Row{"3, mm", D::length, "commas are not read", "without commas"},
             Row{"1 1,5/8 in", D::length, "commas are not read", "without commas"},
             Row{"1.234,5 mm", D::length, "commas are not read", "without commas"},
             Row{"2,5/8 in", D::length, "commas are not read", "without commas"},
         })
      check(row);
  }

  TEST_CASE("what is no number is refused") {
    for (const Row& row : {
             Row{"", D::length, "it is empty", "3.2 mm"},
             Row{"  ", D::length, "it is empty", "3.2 mm"},
             Row{"\u00a0", D::length, "it is empty", "3.2 mm"},
             Row{"mm", D::length, "a number was expected", "3.2 mm"},
             Row{"nan", D::length, "a number was expected", "3.2 mm"},
             Row{"nan mm", D::length, "a number was expected", "3.2 mm"},
             Row{"inf mm", D::length, "a number was expected", "3.2 mm"},
             Row{"-inf C", D::temperature, "a number was expected", "70 C"},
             Row{"infinity", D::ratio, "a number was expected", "0.5 or 50 %"},
             Row{"1e999 mm", D::length, "too large or too small", "3.2 mm"},
             Row{"1e-999 mm", D::length, "too large or too small", "3.2 mm"},
             Row{". mm", D::length, "a number was expected", "3.2 mm"},
             Row{"- 3 mm", D::length, "a number was expected", "3.2 mm"},
             Row{"--3 K", D::temperature_difference, "a number was expected", "5 K"},
             Row{"+-3 K", D::temperature_difference, "a number was expected", "5 K"},
             Row{"0x10 mm", D::length, "\"x10\" is no unit of length", "mm, cm"},
             Row{"0x1p4 mm", D::length, "\"x1p4\" is no unit of length", "mm, cm"},
             Row{"three mm", D::length, "a number was expected", "3.2 mm"},
             Row{"٣ mm", D::length, "a number was expected", "3.2 mm"},
         })
      check(row);
  }

  TEST_CASE("fractions that are slips are refused") {
    for (const Row& row : {
             Row{"1/0 in", D::length, "divides by zero", "1/8 in"},
             Row{"1 1/0 in", D::length, "divides by zero", "1/8 in"},
             Row{"1 9/8 in", D::length, "must be below one", "1/8 in"},
             Row{"1 8/8 in", D::length, "must be below one", "1/8 in"},
             Row{"1.5 1/2 in", D::length, "made of whole numbers", "1/8 in"},
             Row{"1.5/2 in", D::length, "made of whole numbers", "1/8 in"},
             Row{"1/8.5 in", D::length, "\".5 in\" was not expected", "1/8 in"},
             Row{"1/8/2 in", D::length, "\"/2\" is no unit of length", "mm"},
             Row{"1--1/8 in", D::length, "was not expected after the number", "1/8 in"},
             Row{"1 - 1/8 in", D::length, "was not expected after the number", "1/8 in"},
             Row{"5-3 in", D::length, "was not expected after the number", "1/8 in"},
         })
      check(row);
  }

  TEST_CASE("what has two readings is refused") {
    for (const Row& row : {
             Row{"5 1 in", D::length, "two numbers stand side by side", "1 1/2"},
             Row{"3 2 mm", D::length, "two numbers stand side by side", "thousands without a gap"},
             Row{"1 000 mm", D::length, "two numbers stand side by side", "thousands without a gap"},
             Row{"1'000 mm", D::length, "\"'000\" is no unit of length", "mm"},
             Row{"3.2.1 mm", D::length, "\".1 mm\" was not expected", "3.2 mm"},
             Row{"2 min 90 s", D::duration, "not less than 1 min", "2 min 30 s"},
             Row{"5 ft 12 in", D::length, "not less than 1 ft", "1/8 in"},
             Row{"30 s 2 min", D::duration, "from the larger unit to the smaller", "2 min 30 s"},
             Row{"2 min 3 min", D::duration, "from the larger unit to the smaller", "2 min 30 s"},
             Row{"2 min -30 s", D::duration, "from the larger unit to the smaller", "2 min 30 s"},
             Row{"1 in 3 mm", D::length, "mix inches and metric", "3.2 mm or 1/8 in"},
             Row{"70 C 60 C", D::temperature, "more than one value", "70 C"},
             Row{"64 in2 3 in2", D::area, "more than one value", "64 in2"},
             Row{"0.5 1", D::ratio, "more than one value", "50 %"},
             Row{"70 deg", D::temperature, "\"deg\" is no unit", "say which scale: 70 C or 158 F"},
             Row{"70°", D::temperature, "\"°\" is no unit", "say which scale: 70 C or 158 F"},
             Row{"70 degrees", D::temperature, "\"degrees\" is no unit", "say which scale: 70 C or 158 F"},
         })
      check(row);
  }

  TEST_CASE("an unknown unit is refused with the one that was probably meant") {
    for (const Row& row : {
             Row{"3.2 furlongs", D::length, "\"furlongs\" is no unit of length", "units of length: mm, cm"},
             Row{"3.2 MM", D::length, "\"MM\" is no unit of length", "did you mean mm?"},
             Row{"70 c", D::temperature, "\"c\" is no unit", "did you mean C?"},
             Row{"158f", D::temperature, "\"f\" is no unit", "did you mean F?"},
             Row{"2 MPA", D::pressure, "\"MPA\" is no unit", "did you mean MPa?"},
             Row{"2 inchs", D::length, "\"inchs\" is no unit", "did you mean in?"},
             Row{"90 secnds", D::duration, "\"secnds\" is no unit", "did you mean s?"},
             Row{"3.2 in2", D::length, "\"in2\" is no unit of length", "in2 is a unit of area"},
             Row{"410 cm", D::area, "\"cm\" is no unit of area", "cm is a unit of length"},
             Row{"70 min", D::temperature, "\"min\" is no unit", "min is a unit of time"},
             Row{"5 C", D::temperature_difference, "\"C\" is no unit",
                 "write 5 K or 5 dC (Celsius steps), or 9 dF"},
             Row{"5 °F", D::temperature_difference, "\"°F\" is no unit", "a difference is not a temperature"},
             Row{"5 K", D::money, "\"K\" is no unit of price", "EUR"},
         })
      check(row);
  }

  TEST_CASE("rubbish after a quantity is refused and shown") {
    for (const Row& row : {
             Row{"3.2 mm abc", D::length, "\"abc\" was not expected after the unit", "3.2 mm"},
             Row{"3.2mm!", D::length, "\"mm!\" is no unit of length", "did you mean mm?"},
             Row{"3.2 mm, 4 mm", D::length, "\", 4 mm\" was not expected after the unit", "3.2 mm"},
             Row{"3.2 mm mm", D::length, "\"mm\" was not expected after the unit", "3.2 mm"},
             Row{"3.2 in.", D::length, "\".\" was not expected after the unit", "1/8 in"},
             Row{"70 C (hot)", D::temperature, "\"(hot)\" was not expected after the unit", "70 C"},
         })
      check(row);
  }

  TEST_CASE("what nothing at the bench can be is refused with the range in the unit that was typed") {
    for (const Row& row : {
             Row{"-3 mm", D::length, "outside anything possible", "0 mm to 100000 mm"},
             Row{"\u22123 mm", D::length, "outside anything possible", "0 mm to"},
             Row{"5 km", D::length, "\"km\" is no unit", "units of length"},
             Row{"2000 C", D::temperature, "outside anything possible", "to 300 C"},
             Row{"2000 F", D::temperature, "outside anything possible", "to 572 F"},
             Row{"70 K", D::temperature, "outside anything possible", "to 573.15 K"},
             Row{"0 kg/m3", D::density, "outside anything possible", "above 0 kg/m3"},
             Row{"-1 s", D::duration, "outside anything possible", "0 s to"},
         })
      check(row);
  }

  TEST_CASE("sizes are refused as sizes") {
    const struct {
      const char* text;
      const char* why;
    } rows[] = {
        {"600 mm", "two lengths were expected"},
        {"", "two lengths were expected"},
        {"600 x 450", "the unit is missing"},
        {"600 mm x 450", "the unit is missing"},
        {"x 450 mm", "it is empty"},
        {"600 mm x", "it is empty"},
        {"0 x 450 mm", "above zero"},
        {"600 x 0 mm", "above zero"},
        {"-600 x 450 mm", "outside anything possible"},
        {"12 x 18 x 3 in", "no unit of length"},
        {"600 x 450 kg", "\"kg\" is no unit of length"},
        {"6,5 x 450 mm", "commas are not read"},
    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.text));
      const std::string seen = refusal_of([&] { parse_size(row.text); });
      CAPTURE(seen);
      CHECK(holds(seen, row.why));
      CHECK(holds(seen, "is not a size"));
      CHECK(holds(seen, "600 x 450 mm or 18 x 24 in"));
    }
  }

  TEST_CASE("a very long text is refused at once and echoed in one short line") {
    const std::string digits(200000, '7');
    const std::string letters(200000, 'q');
    const std::string terms = [] {
      std::string many;
      for (int i = 0; i < 20000; ++i) many += "1 h ";
      return many;
    }();
    for (const std::string& text :
         {digits, digits + " mm", "3 " + letters, "3," + digits, "1/" + digits + " in", letters, terms,
          std::string(100000, ' ') + "3 q"}) {
      const std::string seen = refusal(text, D::length);
      CHECK_FALSE(seen.empty());
      CHECK(seen.size() < 500);
    }
  }

  TEST_CASE("what is echoed cannot steer a terminal") {
    const std::string seen = refusal("3 \x1b[31mred\x07 \xc2\x9b \xff", D::length);
    CHECK(holds(seen, "?[31mred?"));
    CHECK(echo(seen) == seen);
    CHECK(refusal(std::string_view("3 mm\0", 5), D::length).find('\0') == std::string::npos);
  }

  TEST_CASE("a refusal is a data problem") {
    try {
      parse_quantity("3.2", D::length);
      FAIL("nothing was refused");
    } catch (const Failure& failure) {
      CHECK(failure.trouble() == Trouble::data);
      REQUIRE(failure.problems().size() == 1);
      CHECK(failure.problems().front().message == "\"3.2\" is not a length: the unit is missing");
    }
  }
}

}  // namespace
}  // namespace warmsheet
