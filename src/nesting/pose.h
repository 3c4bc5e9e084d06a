// SPDX-License-Identifier: MIT
// A form turned to any angle, and the loss of two of them without a pair field: overlap by separating axes of
// the convex parts, depth by the poles. Slower by an order than a field, but free of the grid of angles.
#pragma once

#include "nesting/form.h"

namespace warmsheet::nesting {

struct PosedPart {
  Extent box = {};
  Loop corners;
  Loop normals;  ///< outward, of unit length, one for each corner's edge to the next
};

struct Pose {
  Pose() = default;
  Pose(const Form& form, Turn turn_by) { set(form, turn_by); }

  /// Becomes the pose of another form or turn in the memory it has.
  void set(const Form& form, Turn turn_by);

  Turn turn;
  Extent box;    ///< of the true outline about the form's centre
  Extent grown;  ///< of all grown parts
  std::vector<PosedPart> parts;
  std::vector<PosedPart> bare;
  PoleCloud poles;
  PoleCloud bare_poles;
  double hull_area = 0.0;
  double diameter = 0.0;
};

/// With b moved by p relative to a; 0 unless they overlap by more than `touching_mm`.
/// \param bare_a, bare_b whether the shape meets the other without its growth
double posed_loss(const Pose& a, bool bare_a, const Pose& b, bool bare_b, Vec p);

}  // namespace warmsheet::nesting
