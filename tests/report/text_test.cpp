// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <sstream>

#include "base/text.h"
#include "report/random_document.h"
#include "report/sample.h"
#include "report/text_layout.h"
#include "report/writers.h"

using namespace warmsheet;
using namespace warmsheet::report;

namespace {

std::size_t widest_line(const std::string& text) {
  std::istringstream lines(text);
  std::size_t widest = 0;
  for (std::string line; std::getline(lines, line);) widest = std::max(widest, columns(line));
  return widest;
}

/// All in one line, single spaces.
std::string flowed(const std::string& text) {
  std::istringstream words(text);
  std::string flow;
  for (std::string word; words >> word;) flow += word + " ";
  return flow;
}

/// A phrase as one line, its figures marked.
std::string sentence(const Phrase& phrase) {
  std::string out;
  put(out, "", phrase_line(phrase), 100000);
  return flowed(out);
}

std::string without_escapes(const std::string& text) {
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\x1b') {
      plain += text[i];
      continue;
    }
    i = text.find('m', i);
    REQUIRE(i != std::string::npos);
  }
  return plain;
}

}  // namespace

TEST_CASE("no line is wider than the terminal, whatever the document holds") {
  CHECK(rc::check("80 columns", [](std::uint32_t seed) {
    const auto width = *rc::gen::inRange<std::size_t>(60, 120);
    const Document document = sample::random_document(seed);
    RC_ASSERT(widest_line(to_text(document, {})) <= 80U);
    RC_ASSERT(widest_line(to_text(document, {.width = width})) <= width);
    for (const Figure& figure : document.figures()) RC_ASSERT(widest_line(why(figure, width)) <= width);
  }));
}

TEST_CASE("every figure of the document stands in the text with its mark") {
  CHECK(rc::check("marks in text", [](std::uint32_t seed) {
    const Document document = sample::random_document(seed);
    const std::string text = flowed(to_text(document, {.width = 100000}));
    const std::string narrow = flowed(to_text(document, {}));
    RC_ASSERT(std::count(narrow.begin(), narrow.end(), '[') >= std::count(text.begin(), text.end(), '['));
    for (const Figure& figure : document.figures())
      RC_ASSERT(text.find(marked_value(figure)) != std::string::npos);
  }));
}

TEST_CASE("no control character of the document reaches the terminal") {
  CHECK(rc::check("terminal", [](std::uint32_t seed) {
    const std::string text = to_text(sample::random_document(seed), {});
    for (const char c : text) RC_ASSERT(c == '\n' || static_cast<unsigned char>(c) >= 0x20);
  }));
}

TEST_CASE("cautions come first, then results, then the rest, then the legend") {
  const std::string text = to_text(sample::document(), {});
  std::size_t last = 0;
  for (const char* heading :
       {"Timing of an elastic sheet", "CAUTIONS\n", "RESULTS\n", "BENCH PLAN\n", "SHEETS COMPARED\n",
        "ASKED FOR\n", "WHERE THE FIGURES COME FROM\n", "Library: built in"}) {
    CAPTURE(heading);
    const std::size_t at = text.find(heading);
    REQUIRE(at != std::string::npos);
    CHECK(at >= last);
    last = at;
  }
}

TEST_CASE("the brief form keeps the cautions, the results and the marks' meaning") {
  const Document document = sample::document();
  const std::string brief = to_text(document, {.brief = true});
  for (const Caution& caution : document.cautions())
    CHECK(flowed(brief).find(sentence(caution.text)) != std::string::npos);
  CHECK(brief.find("ready:") != std::string::npos);
  CHECK(brief.find("[M] memory") != std::string::npos);
  CHECK(brief.find("BENCH PLAN") == std::string::npos);
  // Demo figures stand only in the sections that were left out.
  CHECK(brief.find("[D]") == std::string::npos);
}

TEST_CASE("colour adds nothing but colour") {
  const Document document = sample::document();
  const std::string coloured = to_text(document, {.color = true});
  CHECK(coloured.find('\x1b') != std::string::npos);
  CHECK(without_escapes(coloured) == to_text(document, {}));
}

TEST_CASE("an answer of no is said in words") {
  Document document = sample::document();
  CHECK(to_text(document, {}).find("The answer is NO.") == std::string::npos);
  document.answer_is_no = true;
  CHECK(to_text(document, {}).find("The answer is NO.") != std::string::npos);
  document.results.clear();
  CHECK(to_text(document, {.brief = true}).find("The answer is NO.") != std::string::npos);
}

TEST_CASE("what is absent is shown with its reason") {
  const std::string text = flowed(to_text(sample::document(), {}));
  CHECK(text.find("holds shape: no figure (the sheet stays above its freezing range under the wrap)") !=
        std::string::npos);
}

TEST_CASE("cautions can be had alone") {
  const std::string text = cautions_text(sample::document(), 80);
  CHECK(text.rfind("CAUTIONS\n", 0) == 0);
  CHECK(flowed(text).find("Never fold or stack hot sheet on skin") != std::string::npos);
  CHECK(text.find("RESULTS") == std::string::npos);
}

TEST_CASE("lines fold with a hanging indent") {
  std::string out;
  put(out, "  - ", "one two three four five six", 16);
  CHECK(out ==
        "  - one two\n"
        "    three four\n"
        "    five six\n");
}

TEST_CASE("a figure is not parted from its unit or its mark while there is room") {
  const Figure thickness = sample::entered("thickness", {3.2e-3, 3.0e-3, 3.4e-3}, units::millimetre());
  const std::vector<std::string> lines = fold(phrase_line(say("a sheet of {} or so", thickness)), 20);
  CHECK(lines == std::vector<std::string>{"a sheet of 3.2 mm", "(3.0 to 3.4) [E] or", "so"});
}

TEST_CASE("labels and values stand in two columns") {
  std::string out;
  put_pairs(out, {{"area", "410 cm2"}, {"edge finish", "smooth"}}, 40);
  CHECK(out ==
        "  area:         410 cm2\n"
        "  edge finish:  smooth\n");
}

TEST_CASE("a table keeps its columns if they fit, folds its text if that helps, else stacks its rows") {
  const Grid grid{{"sheet", "area", "why"},
                  {{"elastic", "412 cm2", "stiff enough for this wrist"}, {"soft", "9 cm2", "too soft"}},
                  {false, true, false}};
  std::string wide;
  put_grid(wide, grid, 60);
  CHECK(wide ==
        "  sheet       area  why\n"
        "  -------  -------  ---------------------------\n"
        "  elastic  412 cm2  stiff enough for this wrist\n"
        "  soft       9 cm2  too soft\n");
  std::string folded;
  put_grid(folded, grid, 36);
  CHECK(folded ==
        "  sheet       area  why\n"
        "  -------  -------  ----------------\n"
        "  elastic  412 cm2  stiff enough for\n"
        "                    this wrist\n"
        "  soft       9 cm2  too soft\n");
  std::string stacked;
  put_grid(stacked, grid, 30);
  CHECK(stacked ==
        "  sheet: elastic\n"
        "      area: 412 cm2\n"
        "      why: stiff enough for\n"
        "      this wrist\n"
        "  sheet: soft\n"
        "      area: 9 cm2\n"
        "      why: too soft\n");
}

TEST_CASE("drawings and plots are told in words") {
  const std::string text = flowed(to_text(sample::document(), {}));
  CHECK(text.find("Drawing: Outline of a wrist piece. Flat outline, distal end up") != std::string::npos);
  CHECK(text.find("Drawn in the HTML page: After lifting out.") != std::string::npos);
}
