// SPDX-License-Identifier: MIT
// How wide a piece is along the limb, and what that comes to as one strip.
#pragma once

#include <functional>

#include "outline/polygon.h"

namespace warmsheet::choice {

/// Width of material, m, at a place along a piece: the share of its length, counted from the distal end.
using WidthAt = std::function<double(double share)>;

/// The widths of an outline, whose distal end lies at the top (+y).
WidthAt widths_of(const outline::Polygon& shape);

/// A part of a piece that bends, between two places along it.
/// The moment grows evenly from 0 at `unloaded` to its greatest at `loaded`. Material wider than `widest`
/// there counts as that wide, evenly between the two places: what is more lies on another part of the limb.
struct BentPart {
  double unloaded;
  double loaded;
  double widest_unloaded_m;
  double widest_loaded_m;
};

/// Second moment of area, m4, of the section of a strip `width_m` wide where the moment is this share of its
/// greatest. Must grow with the width.
using Section = std::function<double(double width_m, double moment)>;

/// The uniform strip that gives as much as a piece whose width changes.
struct Strip {
  double width_m;           ///< mean, weighted as the give is
  double second_moment_m4;  ///< by Mohr's integral: the mean of 1/I weighted with the square of the moment
};

/// All 0 if somewhere in the part there is no material.
Strip equivalent_strip(const WidthAt& width_at, const BentPart& part, const Section& section);

/// The argument between 0 and `most` at which a growing function reaches `wanted`; `most` if it never does.
double argument_for(double wanted, double most, const std::function<double(double)>& growing);

}  // namespace warmsheet::choice
