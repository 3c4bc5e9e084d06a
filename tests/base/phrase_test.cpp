// SPDX-License-Identifier: MIT
#include "base/phrase.h"

#include <doctest/doctest.h>

#include <stdexcept>
#include <string>
#include <string_view>

namespace warmsheet {
namespace {

Figure wait() {
  return Figure::entered("wait", Range::exactly(20), units::second());
}

/// Parts with figures as [name].
std::string flat(const Phrase& phrase) {
  std::string text;
  for (const Phrase::Part& part : phrase.parts()) {
    if (const auto* figure = std::get_if<Figure>(&part))
      text += "[" + figure->name() + "]";
    else
      text += std::get<std::string>(part);
  }
  return text;
}

template <class T>
concept Says = requires(T value) {
  say("{}", value);
};

// What keeps numbers without a basis out of every sentence is that none of these compile.
static_assert(Says<Figure> && Says<Label> && Says<Phrase>);
static_assert(!Says<double> && !Says<float> && !Says<int> && !Says<std::size_t> && !Says<bool> &&
              !Says<char>);
static_assert(!Says<std::string> && !Says<std::string_view> && !Says<const char*>);
static_assert(!Says<Range> && !Says<Length> && !Says<Finding>);
static_assert(!std::is_constructible_v<Phrase, double> && !std::is_constructible_v<Phrase, int>);
static_assert(!std::is_constructible_v<Phrase, std::string> &&
              !std::is_constructible_v<Phrase, std::string_view>);
static_assert(!std::is_constructible_v<Phrase, const char*> &&
              !std::is_constructible_v<Literal, const char*>);
static_assert(!std::is_constructible_v<Literal, std::string> && !std::is_constructible_v<Literal, double>);
static_assert(!std::is_convertible_v<std::string, Label> && !std::is_convertible_v<double, Label>);
static_assert(!std::is_constructible_v<Label, double> && !std::is_constructible_v<Label, int>);

TEST_SUITE("phrase") {
  TEST_CASE("figures and labels take the places of a pattern in order") {
    CHECK(flat(say("Heat {} for {}.", Label("the sheet"), wait())) == "Heat the sheet for [wait].");
    CHECK(flat(say("No place")) == "No place");
    CHECK(flat(say("{}{}", wait(), wait())) == "[wait][wait]");
    CHECK(say("{}", wait()).figures().size() == 1);
    CHECK(say("Then {}", say("wait {}", wait())).figures().front().name() == "wait");
  }

  TEST_CASE("a phrase that fills another is not read as a pattern again") {
    CHECK(flat(say("{} and {}", Label("{}"), Label("x"))) == "{} and x");
  }

  TEST_CASE("a pattern from a table that does not fit its arguments throws") {
    // A pattern written in place does not compile then (tests/base/refused/).
    const Literal one("for {}");
    CHECK_THROWS_AS(say(one), std::logic_error);
    CHECK_THROWS_AS(say(one, wait(), wait()), std::logic_error);
    CHECK_NOTHROW(say(one, wait()));
  }

  TEST_CASE("neighbouring texts become one part, and nothing adds no part") {
    CHECK(say("a{}c", Label("b")).parts().size() == 1);
    CHECK(say("").empty());
    CHECK(Phrase().empty());
    Phrase joined = say("wait ");
    joined.append(say("{} or more", wait()));
    CHECK(flat(joined) == "wait [wait] or more");
    CHECK(joined.parts().size() == 3);
  }

  TEST_CASE("a label that would read as a number is quoted") {
    for (const char* text : {"3.2", "-3", "12,5", "1 2", "+5", "7"}) {
      CAPTURE(std::string(text));
      CHECK(Label(text).text() == "\"" + std::string(text) + "\"");
    }
    CHECK(Label("sheet 7").text() == "sheet 7");
    CHECK(Label("").text().empty());
    CHECK(Label::ordinal("sheet", 1).text() == "sheet 2");
  }
}

}  // namespace
}  // namespace warmsheet
