// SPDX-License-Identifier: MIT
// How badly two shapes overlap, for every position of one beside the other at a fixed turn, answered in
// constant time.
//
// The positions at which two convex parts overlap are the inside of their contact loop (Minkowski sum of one
// and the mirrored other); those of the shapes are the union over all pairs of parts. A grid over the union
// marks each cell free, inside, or mixed; a mixed cell keeps the few half-planes that cut it, so the answer
// "overlaps or not" is exact. How badly is a smooth measure on poles, interpolated between the grid's nodes,
// where it is worked out when first asked for: it only steers the search. Measure: guided local search of
// Gardeyn, Vanden Berghe, Wauters 2025 (arXiv 2509.13329), routines 3 and 4.
#pragma once

#include <atomic>
#include <cstdint>
#include <limits>
#include <vector>

#include "nesting/form.h"

namespace warmsheet::nesting {

/// Depth of overlap that counts as touching, mm: far below a cut, far above the rounding of coordinates of a
/// metre.
inline constexpr double touching_mm = 1e-8;

/// What a field needs of a shape: pieces take part grown, or bare beside the outside of a sheet.
struct Solid {
  const std::vector<Loop>* parts;
  const std::vector<Pole>* poles;
  double hull_area;
  double diameter;
};

class PairField {
 public:
  /// b is turned by `turn`; the field gives the loss for b moved by p relative to a.
  /// \pre what the solids point to outlives the field
  PairField(const Solid& a, const Solid& b, Turn turn, int cells_along);
  PairField(const PairField&) = delete;
  PairField& operator=(const PairField&) = delete;
  ~PairField() { delete corners_.load(); }

  /// 0 unless the shapes overlap by more than `touching_mm`; else positive, growing with depth and size.
  [[nodiscard]] double loss(Vec p) const {
    const double fx = (p.x - origin_.x) * per_cell_.x;
    const double fy = (p.y - origin_.y) * per_cell_.y;
    if (!(fx >= 0.0 && fy >= 0.0 && fx < columns_ && fy < rows_)) return 0.0;
    const auto i = static_cast<std::int32_t>(fx);
    const auto j = static_cast<std::int32_t>(fy);
    const Node* node = &nodes_[node_at(i, j)];
    if (node->cell == free_cell) return 0.0;
    if (node->cell != inside_cell && !overlaps(&planes_[node->cell - first_mixed], p)) return 0.0;
    const double u = fx - static_cast<double>(i);
    const double v = fy - static_cast<double>(j);
    const double between = interpolated(node, u, v);
    if (between == between) return between;
    measure(i, j);
    return interpolated(node, u, v);
  }

  /// Corners of the contact loops at which the shapes touch without overlapping; found when first asked for.
  [[nodiscard]] const std::vector<Vec>& corners() const;

 private:
  static constexpr std::uint32_t free_cell = 0;
  static constexpr std::uint32_t inside_cell = 1;
  static constexpr std::uint32_t first_mixed = 2;

  struct Node {
    // At the cell's lower left corner; not a number until it is known. Several threads may find the same
    // value at once.
    std::atomic<float> loss{std::numeric_limits<float>::quiet_NaN()};
    std::uint32_t cell = free_cell;  // or inside_cell, or first_mixed + where its planes begin
  };
  struct Plane {
    double nx, ny, offset;  // inside where nx x + ny y < offset
    bool last_of_part;
    bool last_of_cell;
  };

  static bool overlaps(const Plane* plane, Vec p) {
    for (;;) {
      bool in = true;
      for (;; ++plane) {
        in = in && plane->nx * p.x + plane->ny * p.y < plane->offset;
        if (plane->last_of_part) break;
      }
      if (in) return true;
      if (plane->last_of_cell) return false;
      ++plane;
    }
  }

  [[nodiscard]] std::size_t node_at(std::int32_t column, std::int32_t row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(stride_) +
           static_cast<std::size_t>(column);
  }
  [[nodiscard]] double interpolated(const Node* node, double u, double v) const {
    const auto at = [node](std::int32_t k) {
      return static_cast<double>(node[k].loss.load(std::memory_order_relaxed));
    };
    const double low = at(0) + u * (at(1) - at(0));
    const double high = at(stride_) + u * (at(stride_ + 1) - at(stride_));
    return low + v * (high - low);
  }
  [[nodiscard]] bool overlaps_at(Vec p) const;
  /// Works out the losses at the four nodes of a cell.
  void measure(std::int32_t column, std::int32_t row) const;

  friend class FieldBuilder;

  Vec origin_;
  Vec per_cell_;
  double columns_ = 0.0;
  double rows_ = 0.0;
  std::int32_t stride_ = 0;
  mutable std::vector<Node> nodes_;
  std::vector<Plane> planes_;
  Solid a_;
  Solid b_;
  Turn turn_;
  mutable std::atomic<const std::vector<Vec>*> corners_{nullptr};
  PoleCloud poles_a_;
  PoleCloud poles_b_;
  LossScale scale_;
};

}  // namespace warmsheet::nesting
