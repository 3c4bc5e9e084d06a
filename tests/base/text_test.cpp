// SPDX-License-Identifier: MIT
#include "base/text.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <string>
#include <vector>

namespace warmsheet {
namespace {

TEST_SUITE("text") {
  TEST_CASE("the nearest name is found for slips and only for slips") {
    const std::vector<std::string> known{"sheets", "outline",   "nest",  "timing",    "choose", "plan",
                                         "stock",  "calibrate", "check", "thickness", "heat"};
    const struct {
      const char* word;
      const char* expected;
    } rows[] = {
        {"thikness", "thickness"},
        {"tihckness", "thickness"},
        {"thicknesss", "thickness"},
        {"tickness", "thickness"},
        {"thickmess", "thickness"},
        {"calibrat", "calibrate"},
        {"shets", "sheets"},
        {"sehets", "sheets"},
        {"tining", "timing"},
        {"stok", "stock"},
        {"nset", "nest"},
        {"paln", "plan"},
        {"stock", "stock"},
        {"chekc", "check"},
        // Different words, not slips: these were false hits of a plain distance of two.
        {"help", ""},
        {"heap", "heat"},
        {"best", "nest"},
        {"test", "nest"},
        {"version", ""},
        {"x", ""},
        {"", ""},
        {"ab", ""},
        {"nets", "nest"},

    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.word));
      CHECK(nearest(row.word, known) == row.expected);
    }
    CHECK(nearest("heat", {"nest", "help"}).empty());
    CHECK(nearest("word", {}).empty());
    // Names are typed by their beginning; two that begin so are no guess.
    const std::vector<std::string> ids{"elastic-clear", "elastic-slow", "draping-white"};
    CHECK(nearest("draping", ids) == "draping-white");
    CHECK(nearest("elastic-c", ids) == "elastic-clear");
    CHECK(nearest("elastic", ids).empty());
    CHECK(nearest("dra", ids).empty());  // too short to tell
    CHECK(nearest("week", {"as-you-go", "weekly"}) == "weekly");
    CHECK(nearest(std::string(100000, 'a'), {std::string(100000, 'a')}).empty());
  }

  TEST_CASE("nearest never answers with a word more than two slips away, or one that begins otherwise") {
    CHECK(rc::check([](const std::string& word) {
      const std::vector<std::string> known{"density", "conductivity", "emissivity"};
      const std::string found = nearest(word, known);
      if (!found.empty() && !found.starts_with(word)) {
        const std::size_t longer = std::max(found.size(), word.size());
        RC_ASSERT(longer - std::min(found.size(), word.size()) <= 2U);
        RC_ASSERT(word.size() >= 3U);
      }
    }));
  }

  TEST_CASE("trim takes space from both ends only") {
    CHECK(trim("  a b \t\r\n") == "a b");
    CHECK(trim(" \n ").empty());
    CHECK(trim("").empty());
    CHECK(trim("a") == "a");
  }

  TEST_CASE("clip cuts by columns and never inside a character") {
    CHECK(clip("short", 10) == "short");
    CHECK(clip("exactly", 7) == "exactly");
    CHECK(clip("too long", 3) == "too...");
    CHECK(clip("½½½½", 4) == "½½½½");
    CHECK(clip("½½½½", 2) == "½½...");
    CHECK(clip("", 3).empty());
    CHECK(clip("abc", 0) == "...");
  }

  TEST_CASE("clip and echo let nothing through that steers a terminal or breaks a document") {
    const struct {
      const char* text;
      const char* expected;
    } rows[] = {
        {"a\x1b[31mb", "a?[31mb"},  // escape
        {"a\tb\rc\x7f", "a?b?c?"},  // other controls
        {"a\xc2\x9b"
         "b",
         "a?b"},  // C1 control sequence introducer
        {"a\xc2\xa0"
         "b",
         "a\xc2\xa0"
         "b"},  // no-break space is text
        {"a\xff"
         "b\xfe",
         "a?b?"},                      // bytes that are never UTF-8
        {"a\xc2", "a?"},               // cut short
        {"\xe2\x82", "??"},            // cut short
        {"\xc0\xaf", "??"},            // overlong
        {"\xe0\x80\xaf", "???"},       // overlong
        {"\xed\xa0\x80", "???"},       // half of a surrogate pair
        {"\xf4\x90\x80\x80", "????"},  // beyond U+10FFFF
        {"a\u202e"
         "b",
         "a?b"},  // right-to-left override
        {"a\u2066"
         "b",
         "a?b"},  // isolate
        {"\u20ac \u4e2d \U0001d11e", "\u20ac \u4e2d \U0001d11e"},
    };
    for (const auto& row : rows) {
      CAPTURE(std::string(row.expected));
      CHECK(clip(row.text, 100) == row.expected);
      CHECK(echo(row.text) == row.expected);
    }
    CHECK(clip("a\nb", 10) == "a?b");
    CHECK(echo("a\nb") == "a\nb");
  }

  TEST_CASE(
      "whatever bytes come in, clip gives text of the right width, and giving it again changes nothing") {
    CHECK(rc::check([](const std::string& bytes) {
      const std::size_t most = *rc::gen::inRange<std::size_t>(0, 20);
      const std::string shown = clip(bytes, most);
      RC_ASSERT(columns(shown) <= most + 3);
      RC_ASSERT(echo(shown) == shown);
    }));
  }

  TEST_CASE("wrap fills lines and breaks only at spaces") {
    CHECK(wrap("one two three", 7) == std::vector<std::string>{"one two", "three"});
    CHECK(wrap("one two three", 100) == std::vector<std::string>{"one two three"});
    CHECK(wrap("  one \n two ", 3) == std::vector<std::string>{"one", "two"});
    CHECK(wrap("a verylongword b", 4) == std::vector<std::string>{"a", "verylongword", "b"});
    CHECK(wrap("½½½ ½½½", 7) == std::vector<std::string>{"½½½ ½½½"});
    CHECK(wrap("", 5).empty());
    CHECK(wrap("   ", 5).empty());
    CHECK(wrap("a b", 0) == std::vector<std::string>{"a", "b"});
  }

  TEST_CASE("wrapped lines hold the same words, no line is too wide, and none could take the next word") {
    CHECK(rc::check([] {
      const auto words = *rc::gen::container<std::vector<std::string>>(
          rc::gen::nonEmpty(rc::gen::container<std::string>(rc::gen::elementOf(std::string("abc")))));
      const std::size_t width = *rc::gen::inRange<std::size_t>(1, 30);
      const std::vector<std::string> lines = wrap(join(words, " "), width);
      RC_ASSERT(join(lines, " ") == join(words, " "));
      for (std::size_t i = 0; i < lines.size(); ++i) {
        RC_ASSERT(columns(lines[i]) <= width || lines[i].find(' ') == std::string::npos);
        if (i == 0) continue;
        const std::size_t first_word = std::min(lines[i].find(' '), lines[i].size());
        RC_ASSERT(columns(lines[i - 1]) + 1 + first_word > width);
      }
    }));
  }

  TEST_CASE("whoever mistypes a word is told the nearest one, or all of them") {
    const std::vector<std::string> known{"mini", "solid"};
    CHECK(meant_or_known("solod", known) == "did you mean solid?");
    CHECK(meant_or_known("holes", known) == "known: mini, solid");
    CHECK(known_hint("solod", known) == "did you mean \"solid\"? known: mini, solid");
    CHECK(known_hint("holes", known) == "known: mini, solid");
    CHECK(known_hint("holes", {}) == "none is known");
  }

  TEST_CASE("join keeps empty parts apart") {
    CHECK(join({"a", "b"}, ", ") == "a, b");
    CHECK(join({"", "b", ""}, ",") == ",b,");
    CHECK(join({}, ",").empty());
  }

  TEST_CASE("articles and lower case") {
    CHECK(with_article("area") == "an area");
    CHECK(with_article("length") == "a length");
    CHECK(lower_case("MPa °C") == "mpa °c");
    CHECK(spaced("_wrist_girth, von m-p") == " wrist girth, von m-p");
  }
}

}  // namespace
}  // namespace warmsheet
