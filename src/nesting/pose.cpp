// SPDX-License-Identifier: MIT
#include "nesting/pose.h"

#include "nesting/field.h"

namespace warmsheet::nesting {
namespace {

void pose_part(PosedPart& made, const Loop& part, Turn turn) {
  made.box = {};
  made.corners.clear();
  made.normals.clear();
  for (const Vec p : part) {
    made.corners.push_back(turn(p));
    made.box.take(made.corners.back());
  }
  const std::size_t n = made.corners.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec edge = made.corners[i + 1 < n ? i + 1 : 0] - made.corners[i];
    const double size = length(edge);
    made.normals.push_back(size > 0.0 ? (1.0 / size) * Vec{edge.y, -edge.x} : Vec{});
  }
}

void pose_parts(std::vector<PosedPart>& made, const std::vector<Loop>& parts, Turn turn) {
  made.resize(parts.size());
  for (std::size_t i = 0; i < parts.size(); ++i) pose_part(made[i], parts[i], turn);
}

/// Whether an edge of a has all of b (moved by p) on its outer side.
bool separated_by_edge(const PosedPart& a, const PosedPart& b, Vec p) {
  for (std::size_t i = 0; i < a.corners.size(); ++i) {
    const Vec n = a.normals[i];
    const double edge = dot(n, a.corners[i] - p) - touching_mm;
    bool outside = true;
    for (const Vec corner : b.corners) {
      if (dot(n, corner) < edge) {
        outside = false;
        break;
      }
    }
    if (outside) return true;
  }
  return false;
}

bool boxes_meet(const Extent& a, const Extent& b, Vec p) {
  return a.x0 < b.x1 + p.x && b.x0 + p.x < a.x1 && a.y0 < b.y1 + p.y && b.y0 + p.y < a.y1;
}

bool overlap(const std::vector<PosedPart>& a, const std::vector<PosedPart>& b, Vec p) {
  for (const PosedPart& part_a : a) {
    for (const PosedPart& part_b : b) {
      if (!boxes_meet(part_a.box, part_b.box, p)) continue;
      if (!separated_by_edge(part_a, part_b, p) && !separated_by_edge(part_b, part_a, -p)) return true;
    }
  }
  return false;
}

}  // namespace

void Pose::set(const Form& form, Turn turn_by) {
  turn = turn_by;
  box = extent_turned(form, turn_by);
  grown = {};
  pose_parts(parts, form.parts, turn);
  for (const PosedPart& part : parts) {
    for (const Vec p : part.corners) grown.take(p);
  }
  pose_parts(bare, form.bare, turn);
  poles.set(form.poles, turn_by);
  bare_poles.set(form.bare_poles, turn_by);
  hull_area = form.hull_area;
  diameter = form.diameter;
}

double posed_loss(const Pose& a, bool bare_a, const Pose& b, bool bare_b, Vec p) {
  if (!overlap(bare_a ? a.bare : a.parts, bare_b ? b.bare : b.parts, p)) return 0.0;
  const LossScale scale(a.hull_area, a.diameter, b.hull_area, b.diameter);
  return scale.loss(bare_a ? a.bare_poles : a.poles, bare_b ? b.bare_poles : b.poles, p);
}

}  // namespace warmsheet::nesting
