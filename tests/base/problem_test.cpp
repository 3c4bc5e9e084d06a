// SPDX-License-Identifier: MIT
#include "base/problem.h"

#include <doctest/doctest.h>

#include <stdexcept>
#include <string>

namespace warmsheet {
namespace {

TEST_SUITE("problem") {
  TEST_CASE("exit codes are those in the manual") {
    // DESIGN.md section 5: 1 the answer is no, 2 usage, 3 bad data, 4 could not write.
    CHECK(exit_code(Trouble::no_answer) == 1);
    CHECK(exit_code(Trouble::usage) == 2);
    CHECK(exit_code(Trouble::data) == 3);
    CHECK(exit_code(Trouble::write) == 4);
    CHECK(exit_code(Trouble::stopped) == 128 + 2);  // POSIX: SIGINT is 2; a shell reports 128 and the signal
  }

  TEST_CASE("a place is told as far as it is known") {
    CHECK(Place{"a.toml", 3, 4}.text() == "a.toml:3:4");
    CHECK(Place{"a.toml", 3, 0}.text() == "a.toml:3");
    CHECK(Place{"a.toml", 0, 4}.text() == "a.toml");
    CHECK(Place{"", 3, 4}.text() == "line 3, column 4");
    CHECK(Place{"", 3, 0}.text() == "line 3");
    CHECK(Place{}.text().empty());
  }

  TEST_CASE("a failure tells all its problems, each with its hint") {
    const Failure failure(
        {{Trouble::usage, {}, "first", ""}, {Trouble::data, {"a", 1, 2}, "second", "do this"}});
    CHECK(std::string(failure.what()) == "first\na:1:2: second\n  do this");
    CHECK(failure.trouble() == Trouble::usage);
    CHECK(failure.problems().size() == 2);
    CHECK_THROWS_AS(Failure(std::vector<Problem>{}), std::logic_error);
  }

  TEST_CASE("names from outside cannot steer a terminal") {
    const Problem problem{Trouble::data, {"\x1b]0;x\x07.toml", 1, 1}, "key \x1b[2J", "see \x9b"};
    CHECK(problem.text() == "?]0;x?.toml:1:1: key ?[2J\n  see ?");
  }

  TEST_CASE("the same problem at the same place is told once") {
    Problems problems;
    CHECK_NOTHROW(problems.throw_if_any());
    problems.add({"a", 1, 1}, "wrong", "hint");
    problems.add({"a", 1, 1}, "wrong", "hint");
    problems.add({"a", 2, 1}, "wrong", "hint");
    CHECK(problems.list().size() == 2);
    CHECK_THROWS_AS(problems.throw_if_any(), Failure);
    CHECK_FALSE(problems.empty());
  }

  TEST_CASE(
      "a failed step's problems stand at their own line, or at the key that led there with their file") {
    const Place key{"job.toml", 3, 11};
    Problems problems;
    collecting(problems, key, [] { throw Failure({Trouble::data, {"a.svg", 7, 1}, "no path", {}}); });
    collecting(problems, key, [] {
      throw Failure({Trouble::data, {"b.svg", 0, 0}, "cannot be opened", {}});
    });
    collecting(problems, key, [] { throw Failure({Trouble::usage, {}, "no such sheet", "name one"}); });
    collecting(problems, key, [] {});
    REQUIRE(problems.list().size() == 3);
    CHECK(problems.list()[0].text() == "a.svg:7:1: no path");
    CHECK(problems.list()[1].text() == "job.toml:3:11: b.svg: cannot be opened");
    CHECK(problems.list()[2].place.line == 3);
    CHECK(problems.list()[2].message == "no such sheet");
  }

  TEST_CASE("a file of nothing but slips is not told slip by slip") {
    Problems problems;
    for (int line = 1; line <= 200'000; ++line) problems.add({"a", line, 1}, "unknown key");
    try {
      problems.throw_if_any();
      FAIL("nothing was thrown");
    } catch (const Failure& failure) {
      CHECK(failure.problems().size() == 51);
      CHECK(failure.problems().back().text() ==
            "a: has more problems, which are not listed\n  mend these first");
    }
  }
}

}  // namespace
}  // namespace warmsheet
