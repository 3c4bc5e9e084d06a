// SPDX-License-Identifier: MIT
// The trade's rules held against a finished outline.
#pragma once

#include <string_view>
#include <vector>

#include "outline/outline.h"
#include "outline/pattern.h"

namespace warmsheet::outline {

/// What a rule is checked on.
struct Subject {
  const library::Design& design;
  const library::Library& library;
  const Measures& measures;
  const Drawn& drawn;
  const Polygon& shape;          ///< the same shape as `drawn`, valid
  std::vector<Figure> rests_on;  ///< measures and rules behind the shape
  double across = 1.0;  ///< -1: the shape is turned over afterwards, and places are told as they are then
};

/// A design that states a rule with one of these ids is checked for it; lets tell the check where to look:
/// - `crease_clearance`, `knuckle_clearance`: the distal edge ends short of the palmar crease, or the row of
///   knuckles, by the rule's low..high; `crease_from_x`, `crease_from_y`, `crease_to_x` and `crease_to_y`
///   (`knuckle_...`) are the ends of that line.
/// - `thenar_clearance`: material stays at least low away from the ellipse `thenar_x`, `thenar_y`,
///   `thenar_rx`, `thenar_ry`.
/// - `forearm_share`: length below `wrist_y` over the forearm's length is within low..high.
/// - `trough_share`: width at `trough_y` over `trough_girth` is within low..high, and the walls reach half
///   of the limb's depth.
/// - `corner_radius`: every corner that turns more than 30 degrees is rounded to at least low.
/// - `bridge_width`: material beside and between holes is at least low wide.
/// - `wrist_strap_width`: the strap with the id "wrist" is low..high wide.
/// - `strap_count`: there are as many straps as the value says.
///
/// Straps are always checked to lie on material. Throws a Failure (data) if a let is missing.
std::vector<RuleCheck> check_rules(const Subject& subject);

/// True if a rule of this id is checked, and so does something though no expression uses it.
bool is_checked(std::string_view rule);

}  // namespace warmsheet::outline
