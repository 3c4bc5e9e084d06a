// SPDX-License-Identifier: MIT
#include "report/document.h"

#include <doctest/doctest.h>

#include <stdexcept>
#include <type_traits>

#include "report/sample.h"
#include "report/writers.h"

using namespace warmsheet;
using namespace warmsheet::report;

// No bare number can enter a document as something to be read.
template <class Text>
constexpr bool takes_no_number =
    !std::is_constructible_v<Text, double> && !std::is_constructible_v<Text, float> &&
    !std::is_constructible_v<Text, int> && !std::is_constructible_v<Text, long> &&
    !std::is_constructible_v<Text, unsigned> && !std::is_convertible_v<double, Text> &&
    !std::is_assignable_v<Text&, double> && !std::is_assignable_v<Text&, int>;
static_assert(takes_no_number<Phrase>);
static_assert(takes_no_number<Label>);
static_assert(takes_no_number<Figure>);
static_assert(takes_no_number<Finding>);
static_assert(takes_no_number<Paragraph>);
static_assert(takes_no_number<decltype(Facts::Line::label)>);
static_assert(takes_no_number<decltype(Facts::Line::value)>);
static_assert(takes_no_number<decltype(Steps::Step::clock)>);
static_assert(takes_no_number<decltype(Table::rows)::value_type::value_type>);
static_assert(takes_no_number<decltype(Bullets::items)::value_type>);
static_assert(takes_no_number<decltype(NamedFinding::finding)>);
// A string made at run time could hold a number, so it needs the name `Label` to be written there.
static_assert(!std::is_constructible_v<Phrase, std::string> && !std::is_constructible_v<Phrase, const char*>);
static_assert(!Sayable<double> && !Sayable<int> && !Sayable<std::string>);
// Coordinates and counts of machine-readable arrays say what they are.
static_assert(!std::is_convertible_v<double, Coordinate>);

TEST_CASE("a document without a caution cannot be made") {
  CHECK_THROWS_AS(Document("timing", "Title", {}, {}), std::logic_error);
}

TEST_CASE("the schema is named after the command") {
  CHECK(sample::document().schema() == "warmsheet.timing/1");
}

TEST_CASE("figures come in reading order, results first, each once") {
  const Figure one = sample::entered("one", Range::exactly(0.001), units::millimetre());
  const Figure two = sample::entered("two", Range::exactly(0.002), units::millimetre());
  Document document("outline", "Title", {{"a", say("Mind {}.", two)}}, {});
  document.sections = {{"Section", {Paragraph{say("{} and {}", one, two)}}}};
  document.results = {{"first", one}, {"second", Finding::absent("not asked")}};
  const std::vector<Figure> figures = document.figures();
  REQUIRE(figures.size() == 2);
  CHECK(figures[0].name() == "one");
  CHECK(figures[1].name() == "two");
}

TEST_CASE("figures of plots, tables, steps and arrays count as shown") {
  const Document document = sample::document();
  for (const char* name : {"half_soft", "bath", "thickness", "share", "film coefficient", "holds", "felt",
                           "price", "weight", "damage", "area"}) {
    CAPTURE(name);
    CHECK(document.find(name).has_value());
  }
}

TEST_CASE("a figure is found by the name of its result, typed either way") {
  const Document document = sample::document();
  CHECK(document.find("half_soft").has_value());
  CHECK(document.find("half soft").has_value());
  Document sheet("sheets", "Title", {{"a", Phrase("Mind.")}}, {});
  const Figure one = sample::entered("one", Range::exactly(0.001), units::millimetre());
  sheet.results = {{"thermal.density", one}, {"a.width", one}, {"b.width", one}};
  CHECK(sheet.find("density").has_value());
  CHECK_FALSE(sheet.find("width").has_value());  // which of the two?
  REQUIRE(document.find("holds_shape").has_value());
  CHECK_FALSE(document.find("holds_shape")->known());
  CHECK_FALSE(document.find("nonsense").has_value());
}

TEST_CASE("the bases that occur come weakest first") {
  CHECK(sample::document().bases() ==
        std::vector<Basis>{Basis::demo, Basis::memory, Basis::handbook, Basis::entered});
}

TEST_CASE("the same document gives the same bytes in every format") {
  const auto all = [] {
    const Document document = sample::document();
    return std::vector<std::string>{to_text(document, {}),
                                    to_text(document, {.color = true}),
                                    to_json(document),
                                    to_html(document),
                                    to_pdf(document, Paper::a4),
                                    to_svg(sample::drawing()),
                                    to_svg(sample::plot()),
                                    to_dxf(sample::drawing()),
                                    to_pdf_tiles(sample::sheet(), Paper::letter)};
  };
  CHECK(all() == all());
}

TEST_CASE(
    "a row with other cells than its table's head is refused: a figure would stand under the wrong word") {
  Document document("plan", "Table", {{"estimate", Phrase("An estimate.")}}, {});
  document.sections = {
      {"Sizes", {Table{{say("sheet"), say("waste")}, {{say("large"), say("small"), say("-")}}}}}};
  CHECK_THROWS_AS(static_cast<void>(document.bases()), std::logic_error);
}
