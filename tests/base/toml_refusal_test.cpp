// SPDX-License-Identifier: MIT
// Bad documents, each with the whole message it must give: place, key, what was seen, what to do.
#include <doctest/doctest.h>

#include <string>

#include "base/failing.h"
#include "base/strict_toml.h"

namespace warmsheet {
namespace {

using testing::holds;
using testing::refusal_of;
using D = Dimension;

/// Reads what a small library file might hold and returns all that was wrong.
std::string problems_in(std::string_view text) {
  return refusal_of([&] {
    const toml::Value document = toml::parse(text, "a.toml");
    Problems problems;
    {
      toml::Reader root(document, "", problems);
      root.text("name");
      root.text_if("note");
      root.choice("side", {"left", "right"});
      root.texts_if("tags");
      root.flag_if("on");
      root.whole_if("copies", 1, 9);
      root.number_if("x");
      root.figure_if("thickness", D::length, Limits{0.001, 0.005});
      root.figure_if("bath", D::temperature);
      if (root.has("found")) root.finding("found", D::duration);
      if (root.has("inner")) {
        toml::Reader inner = root.table("inner");
        inner.figure("thickness", D::length);
      }
      for (toml::Reader& entry : root.tables("stock")) entry.figure("price", D::money);
    }
    problems.throw_if_any();
  });
}

const std::string sound = "name = \"n\"\nside = \"left\"\n";

TEST_SUITE("toml refusal") {
  TEST_CASE("the sound document has no problems") {
    CHECK(problems_in(sound).empty());
  }

  TEST_CASE("one slip gives one message, at its place, with what to do") {
    const struct {
      const char* added;  // third line of the document
      const char* expected;
    } rows[] = {
        {"thikness = \"3 mm\"", "a.toml:3:1: thikness: unknown key\n  did you mean thickness?"},
        {"zzzzz = 1", "a.toml:3:1: zzzzz: unknown key\n  known keys: basis, bath, copies"},
        {"thickness = \"3\"",
         "a.toml:3:13: thickness: \"3\" is not a length: the unit is missing\n  write for example"},
        {"thickness = 3.2", "a.toml:3:13: thickness: \"3.2\" is not a length: the unit is missing"},
        {"thickness = \"3,2 mm\"",
         "commas are not read, neither for decimals nor for thousands\n  write 3.2 mm"},
        {"thickness = \"3 mm\"",
         "a.toml:3:13: thickness: the basis is missing\n  state basis = \"handbook\""},
        {"thickness = { value = 3, unit = \"mm\" }", "a.toml:3:1: thickness.basis: the basis is missing"},
        {"thickness = { value = 3, unit = \"mm\", basis = \"handbok\" }",
         "a.toml:3:47: thickness.basis: \"handbok\" is no basis\n  allowed: demo, memory, practice, "
         "handbook, bench, entered"},
        {"thickness = { value = 3, unit = \"mm\", basis = \"handbook\" }",
         "thickness.basis: basis \"handbook\" needs a source\n  add source = \"KEY\""},
        {"thickness = { value = 3, unit = \"mm\", basis = \"memory\", seen = \"heard\" }",
         "thickness.seen: \"heard\" is not known here\n  did you mean read? allowed: read, second-hand"},
        {"thickness = { value = 3, basis = \"memory\" }",
         "a.toml:3:23: thickness.value: \"3\" is not a length: the unit is missing"},
        {"thickness = { value = 3, unit = \"inn\", basis = \"memory\" }",
         "a.toml:3:33: thickness.unit: \"inn\" is no unit of length\n  did you mean in?"},
        {"thickness = { value = 3, unit = \"degC\", basis = \"memory\" }", "degC is a unit of temperature"},
        {"thickness = { value = 3, unit = 3, basis = \"memory\" }",
         "thickness.unit: expected a text, saw a whole number"},
        {"thickness = { unit = \"mm\", basis = \"memory\" }", "a.toml:3:1: thickness.value: is missing"},
        {"thickness = { value = [3], unit = \"mm\", basis = \"memory\" }",
         "thickness.value: expected a length, saw a list"},
        {"thickness = { value = 3, low = 4, high = 5, unit = \"mm\", basis = \"memory\" }",
         "a.toml:3:23: thickness.value: low, value and high are not in order\n  seen: 4 mm to 3 mm to 5 mm"},
        {"thickness = { value = 3, low = 2, high = 2.5, unit = \"mm\", basis = \"memory\" }",
         "are not in order"},
        {"thickness = { value = 3, unit = \"mm\", basis = \"memory\", tolerance = 1 }",
         "a.toml:3:57: thickness.tolerance: unknown key\n  known keys: basis, high, low, note"},
        {"thickness = { unknown = \"why\" }",
         "thickness.unknown: this figure is needed and cannot be left unknown"},
        {"thickness = { value = 9, unit = \"mm\", basis = \"memory\" }",
         "a.toml:3:1: thickness: 9 mm is outside the limits of this field\n  allowed: 1 mm to 5 mm"},
        {"thickness = { value = 3, low = 0.5, unit = \"mm\", basis = \"memory\" }",
         "thickness: 0.5 mm is outside the limits"},
        {"thickness = true", "a.toml:3:13: thickness: expected a length, saw true or false"},
        {"thickness = [\"3 mm\"]", "thickness: expected a length, saw a list"},
        {"bath = { value = \"5 K\", basis = \"memory\" }",
         "\"5 K\" is not a temperature: it is outside anything possible here"},
        {"bath = { value = 2000, unit = \"degC\", basis = \"memory\" }", "allowed: -100 C to 300 C"},
        {"x = nan", "a.toml:3:5: nan and inf are not accepted as values"},
        {"x = -inf", "nan and inf are not accepted as values"},
        {"thickness = { value = inf, unit = \"mm\", basis = \"memory\" }",
         "a.toml:3:23: nan and inf are not accepted"},
        {"x = \"3\"", "x: expected a number, saw a text"},
        {"x = 1979-05-27", "a.toml:3:5: dates and times are not used in this file"},
        {"on = 1", "on: expected true or false, saw a whole number"},
        {"copies = 0", "copies: expected a whole number from 1 to 9, saw 0"},
        {"copies = 10", "copies: expected a whole number from 1 to 9, saw 10"},
        {"copies = 2.0", "copies: expected a whole number from 1 to 9, saw a number"},
        {"copies = \"2\"", "copies: expected a whole number from 1 to 9, saw a text"},
        {"note = 3", "note: expected a text, saw a whole number"},
        {"tags = \"a\"", "tags: expected a list of texts, saw a text"},
        {"tags = [\"a\", 3]", "a.toml:3:14: tags: expected a list of texts, saw a whole number in it"},
        {"found = { unknown = \"\" }", "a.toml:3:21: found.unknown: is empty"},
        {"found = { unknown = 3 }", "found.unknown: expected a text, saw a whole number"},
        {"found = { unknown = \"why\", value = 3 }", "found.value: unknown key"},
        {"inner = 3", "inner: expected a table, saw a whole number"},
        {"[inner]", "a.toml:3:2: inner.thickness: is missing\n  expected a length"},
        {"[inner]\nthickness = 3\ntickness = 4",
         "a.toml:5:1: inner.tickness: unknown key\n  did you mean thickness?"},
        {"[stock]", "stock: expected tables [[stock]], saw a table"},
        {"[[stock]]\nid = \"a\"\nprice = \"3\"", "stock.a.price: \"3\" is not a price: the unit is missing"},
        {"[[stock]]\n[[stock]]\nprice = { value = 3, unit = \"cr\" }",
         "stock.2.price.basis: the basis is missing"},
    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.added));
      const std::string seen = problems_in(sound + row.added + "\n");
      CAPTURE(seen);
      CHECK(holds(seen, row.expected));
    }
  }

  TEST_CASE("missing, blank and mistyped entries are told apart") {
    const struct {
      const char* text;
      const char* expected;
    } rows[] = {
        {"side = \"left\"\n", "a.toml:1:1: name: is missing\n  expected a text"},
        {"name = \"\"\nside = \"left\"\n", "a.toml:1:8: name: is empty"},
        {"name = \" \\t\"\nside = \"left\"\n", "a.toml:1:8: name: is empty"},
        {"name = 3\nside = \"left\"\n", "name: expected a text, saw a whole number"},
        {"name = \"n\"\n", "side: is missing\n  expected one of: left, right"},
        {"name = \"n\"\nside = \"\"\n", "a.toml:2:8: side: \"\" is not known here\n  allowed: left, right"},
        {"name = \"n\"\nside = \"rigth\"\n",
         "side: \"rigth\" is not known here\n  did you mean right? allowed: left, right"},
        {"name = \"n\"\nside = \"Left\"\n", "did you mean left?"},
    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.text));
      const std::string seen = problems_in(row.text);
      CAPTURE(seen);
      CHECK(holds(seen, row.expected));
    }
  }

  TEST_CASE("all slips of a file are reported at once, in words that do not repeat") {
    const std::string seen = problems_in("nmae = \"n\"\nside = \"up\"\ncopies = 0\nthickness = 3\n");
    for (const char* part : {"1:1: nmae: unknown key\n  did you mean name?", "name: is missing",
                             "side: \"up\"", "copies: expected", "thickness: \"3\""}) {
      CAPTURE(std::string(part));
      CHECK(holds(seen, part));
    }
  }

  TEST_CASE("what is not TOML is refused at its place") {
    const struct {
      const char* text;
      const char* place;
    } rows[] = {
        {"a = 1\na = 2\n", "a.toml:2:"},
        {"[t]\nx = 1\n[t]\ny = 2\n", "a.toml:3:"},
        {"a = \n", "a.toml:1:"},
        {"a = \"open\n", "a.toml:1:"},
        {"[open\n", "a.toml:1:"},
        {"a = 3.2 mm\n", "a.toml:1:"},
        {"a = 0,5\n", "a.toml:1:"},
        {"a = 1e400\n", "a.toml:1:"},
        {"a = 99999999999999999999\n", "a.toml:1:"},
        {"a = \"\xff\"\n", "a.toml:1:"},
        {"just words\n", "a.toml:1:"},
    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.text));
      const std::string seen = refusal_of([&] { toml::parse(row.text, "a.toml"); });
      CAPTURE(seen);
      CHECK(holds(seen, row.place));
      CHECK(holds(seen, "not valid TOML"));
    }
  }

  TEST_CASE("the commonest slips of syntax are answered with what to type") {
    const struct {
      const char* line;
      const char* hint;
    } rows[] = {
        {"a = 3.2 mm", "a quantity is a text in quotes: a = \"3.2 mm\""},
        {"a = 3.2 mm  # as measured", "a quantity is a text in quotes: a = \"3.2 mm\""},
        {"a = 1/8 in", "a quantity is a text in quotes: a = \"1/8 in\""},
        {"a = 1/8\"", "a quantity is a text in quotes: a = '1/8\"'"},
        {"a = 70C", "a quantity is a text in quotes: a = \"70C\""},
        {"a = ½ in", "a quantity is a text in quotes: a = \"½ in\""},
        {"a = 50 %", "a quantity is a text in quotes: a = \"50 %\""},
        {"a = 0,5", "decimals take a point: a = 0.5"},
        {"a = .5", "a number starts with a digit: a = 0.5"},
        {"a = 007", "write the number plainly"},
        {"a = 1e400", "write the number plainly"},
        {"a = yes", "write true or false"},
        {"a = True", "write true or false"},
        {"a = left", "a text stands in quotes: a = \"left\""},
        {"a = \"open", "the text has no closing quote"},
        {"a = \"C:\\dir\"", "a backslash is written twice"},
        {"a = { value = 3,", "a table in braces stands on one line; for more lines open it with [a]"},
        {"a = { value = 3 unit = \"mm\" }", "entries in braces are parted by commas"},
        {"a =", "a value stands after the sign ="},
        {"= 3", "a name stands before the sign ="},
        {"wrist girth = \"160 mm\"", "names have no spaces: wrist_girth"},
        {"a : 3", "see toml.io"},
        {"b = 2", "a key or table may stand only once"},
    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.line));
      const std::string text = "b = 1\n" + std::string(row.line) + "\n";
      const std::string seen = refusal_of([&] { toml::parse(text, "a.toml"); });
      CAPTURE(seen);
      CHECK(holds(seen, "a.toml:2:"));
      CHECK(holds(seen, std::string("\n  ") + row.hint));
    }
  }

  TEST_CASE("nesting without end is refused, not followed") {
    const std::string deep = "a = " + std::string(100000, '[');
    CHECK(holds(refusal_of([&] { toml::parse(deep, "a.toml"); }), "a.toml:1:"));
  }

  TEST_CASE("names from a file cannot steer a terminal") {
    const std::string seen = problems_in(sound + "\"\\u001b[2J\" = 1\n");
    CAPTURE(seen);
    CHECK(holds(seen, "?[2J: unknown key"));
    CHECK(seen.find('\x1b') == std::string::npos);
  }
}

}  // namespace
}  // namespace warmsheet
