// SPDX-License-Identifier: MIT
// Limbs drawn by us for figures that show where a measure is taken.
#pragma once

#include <vector>

#include "library/library.h"
#include "report/document.h"

namespace warmsheet::report {

/// Schematic, of the size of a usual adult, y up, in mm:
/// - palm: the right palm, fingers up, thumb to the right; the origin is the middle of the wrist crease;
/// - back: the back of the same hand, thumb to the left;
/// - arm: the elbow bent at a right angle, seen from the side, upper arm up, hand to the right; the origin is
///   near the tip of the elbow;
/// - finger: one finger from its palm side, tip up; the origin is the crease at its base.
std::vector<Sketch::Line> limb(library::LimbView view);

/// The mark of a measure on it: a double arrow, or a tape round the limb.
std::vector<Sketch::Line> mark_lines(const library::MeasureMark& mark);

}  // namespace warmsheet::report
