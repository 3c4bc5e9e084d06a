// SPDX-License-Identifier: MIT
#include <doctest/doctest.h>

#include "report/sample.h"
#include "report/writers.h"

using namespace warmsheet;
using namespace warmsheet::report;

namespace {

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t found = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

}  // namespace

TEST_CASE("the tree of a figure goes down to where each value was stated") {
  const Figure conductivity =
      Figure::stated("conductivity", {0.187, 0.16, 0.21}, *find_unit(Dimension::conductivity, "W/mK"),
                     {.basis = Basis::handbook,
                      .source = "a-key",
                      .where = "table 2",
                      .second_hand = true,
                      .place = {"a.toml", 12, 3}});
  const Figure time = Figure::derived("half_soft", {21.0, 15.0, 28.0}, units::second(),
                                      "conduction from both faces", {conductivity});
  CHECK(why(time, 80) ==
        "- half_soft = 21 s (15 to 28) [H]\n"
        "    how: conduction from both faces\n"
        "  - conductivity = 0.187 W/mK (0.160 to 0.210) [H]\n"
        "      handbook, source a-key (second-hand: quoted by another source), table 2;\n"
        "      stated in a.toml:12:3\n"
        "[H] handbook: read in a named published source\n");
}

TEST_CASE("what two figures share is explained once") {
  const Figure leaf = sample::entered("thickness", {3.2e-3, 3.0e-3, 3.4e-3}, units::millimetre());
  const Figure shared =
      Figure::derived("diffusion time", Range::exactly(20.0), units::second(), "thickness squared", {leaf});
  const Figure left = Figure::derived("left", Range::exactly(1.0), units::second(), "a", {shared});
  const Figure right = Figure::derived("right", Range::exactly(2.0), units::second(), "b", {shared, leaf});
  const std::string text =
      why(Figure::derived("sum", Range::exactly(3.0), units::second(), "a + b", {left, right}), 80);
  CAPTURE(text);
  CHECK(count(text, "how: thickness squared") == 1);
  CHECK(count(text, "diffusion time = 20 s [E], explained above") == 1);
  // A stated figure is short enough to stand wherever it is used, its statement once.
  CHECK(count(text, "- thickness = ") == 2);
  CHECK(count(text, "entered\n") == 1);
}

TEST_CASE("a deep tree keeps within the width") {
  Figure figure = sample::entered("bottom", Range::exactly(1.0), units::second());
  for (int i = 0; i < 60; ++i)
    figure = Figure::derived("level " + std::to_string(i), Range::exactly(1.0), units::second(),
                             "the one below", {figure});
  const std::string text = why(figure, 80);
  std::size_t start = 0;
  for (std::size_t end = text.find('\n'); end != std::string::npos; end = text.find('\n', start)) {
    CHECK(end - start <= 80);
    start = end + 1;
  }
  CHECK(text.find("- bottom = 1 s [E]") != std::string::npos);
}
