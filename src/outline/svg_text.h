// SPDX-License-Identifier: MIT
// The little languages inside SVG attributes: path data, transforms, lists of numbers, lengths.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "outline/pen.h"

namespace warmsheet::outline {

/// Draws path data (SVG 1.1, chapter 8: M L H V C S Q T A Z in both cases). Unlike a browser, which draws up
/// to the first slip, this throws a Failure (data) there, with the character's position.
void draw_svg_path(std::string_view data, const Place& place, Pen& pen);

/// "translate(3 4) rotate(30)": the whole list, leftmost outermost. Throws a Failure (data).
Affine parse_svg_transform(std::string_view text, const Place& place);

/// "1,2 3 4": numbers apart by white space or a comma. Throws a Failure (data).
std::vector<double> parse_svg_numbers(std::string_view text, const Place& place);

/// A length as written: its number and its unit ("" for none).
struct SvgLength {
  double number;
  std::string_view unit;
};
/// Throws a Failure (data) if there is no number at its start.
SvgLength parse_svg_length(std::string_view text, const Place& place);

/// Metres in one unit that means a length on paper (mm, cm, in, pt, pc, Q; CSS 2.1, 4.3.2); none for px, %
/// and so on.
std::optional<double> metres_of_svg_unit(std::string_view unit);

}  // namespace warmsheet::outline
