// SPDX-License-Identifier: MIT
// The trade's rules held against a finished outline.
#pragma once

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
};

/// A design that states a rule with one of these ids is checked for it; the lets named here tell the check
/// where to look.
///
/// | rule id | checked | lets |
/// |---|---|---|
/// | `crease_clearance` | the edge stops short of the palmar crease by the rule's low..high |
/// `crease_from_x`, `crease_from_y`, `crease_to_x`, `crease_to_y`: its two ends | | `thenar_clearance` |
/// material stays at least the rule's low away from the thenar eminence | `thenar_x`, `thenar_y`,
/// `thenar_rx`, `thenar_ry`: an ellipse | | `forearm_share` | length below the wrist over the forearm's
/// length within low..high | `wrist_y` | | `trough_share` | width over girth within low..high; walls to about
/// half the limb's depth | `trough_y`, `trough_girth` | | `corner_radius` | every corner that turns more than
/// 30 degrees is rounded to at least low | | | `bridge_width` | material beside and between holes is at least
/// low wide | | | `wrist_strap_width` | width of the strap named "wrist strap" within low..high | | |
/// `strap_count` | number of straps equals the value | |
///
/// Straps are always checked to lie on material. Throws a Failure (data) if a let is missing.
std::vector<RuleCheck> check_rules(const Subject& subject);

}  // namespace warmsheet::outline
