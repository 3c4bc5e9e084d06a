// SPDX-License-Identifier: MIT
#include "report/palette.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "report/strokes.h"
#include "support/near.h"

using namespace warmsheet::report;
using warmsheet::testing::near_abs;

namespace {

/// WCAG 2.1, "relative luminance".
double relative_luminance(Colour colour) {
  const auto linear = [](std::uint8_t byte) {
    const double share = byte / 255.0;
    return share <= 0.03928 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
}

/// WCAG 2.1, "contrast ratio".
double contrast(Colour a, Colour b) {
  const double first = relative_luminance(a);
  const double second = relative_luminance(b);
  return (std::max(first, second) + 0.05) / (std::min(first, second) + 0.05);
}

bool is_listed_on_paper(Colour colour) {
  return std::any_of(colour_pairs.begin(), colour_pairs.end(), [&](const ColourPair& pair) {
    return hex(pair.front) == hex(colour) && hex(pair.back) == hex(palette::paper);
  });
}

}  // namespace

TEST_CASE("the contrast formula gives the values of the standard") {
  // Black on white is 21:1 in the definition itself; #767676 is the lightest grey of 4.5:1 (from memory).
  CHECK(near_abs(contrast({0, 0, 0}, {255, 255, 255}), 21.0, 1e-9));
  CHECK(contrast({0x76, 0x76, 0x76}, {255, 255, 255}) >= 4.5);
  CHECK(contrast({0x77, 0x77, 0x77}, {255, 255, 255}) < 4.5);
}

TEST_CASE("text has a contrast of 4.5, lines and marks of 3 (WCAG 2.1, 1.4.3 and 1.4.11)") {
  for (const ColourPair& pair : colour_pairs) {
    CAPTURE(hex(pair.front));
    CAPTURE(hex(pair.back));
    CHECK(contrast(pair.front, pair.back) >= (pair.text ? 4.5 : 3.0));
  }
}

TEST_CASE("every colour that draws is in the list of pairs") {
  for (const StrokeStyle& style : stroke_styles()) {
    CAPTURE(style.meaning);
    CHECK(is_listed_on_paper(style.colour));
  }
  for (std::size_t i = 0; i < 6; ++i) CHECK(is_listed_on_paper(curve_style(i).colour));
}

TEST_CASE("lines differ without colour: by dash, or by width") {
  std::set<std::pair<std::vector<double>, double>> looks;
  std::set<std::vector<double>> dashes;
  for (const StrokeStyle& style : stroke_styles()) {
    looks.insert({style.dash_mm, style.width_mm});
    if (!style.dash_mm.empty()) CHECK(dashes.insert(style.dash_mm).second);
  }
  CHECK(looks.size() == stroke_styles().size());
  std::set<std::vector<double>> curves;
  for (std::size_t i = 0; i < 6; ++i) CHECK(curves.insert(curve_style(i).dash_mm).second);
}

TEST_CASE("hatches differ without colour") {
  std::set<std::tuple<double, double, bool>> hatches;
  for (const StrokeStyle& style : stroke_styles())
    CHECK(hatches.insert({style.hatch.spacing_mm, style.hatch.angle_deg, style.hatch.crossed}).second);
}

TEST_CASE("the table of lines stands in the order of the kinds") {
  for (const StrokeStyle& style : stroke_styles()) CHECK(style_of(style.stroke).meaning == style.meaning);
}
