// SPDX-License-Identifier: MIT
// From kinds of orthosis to outlines of a few sizes each: what the cutting is simulated with.
#pragma once

#include <string>
#include <vector>

#include "library/library.h"
#include "outline/outline.h"
#include "stock/caseload.h"
#include "stock/turned_boxes.h"

namespace warmsheet::stock {

/// One size of one kind, with its true shape.
struct PieceSize {
  double share;  ///< of the kind
  outline::Polygon shape;
  double area_mm2;
  double edge_mm;  ///< length of all edges
  std::vector<Rectangle> boxes;
  struct Strap {
    std::string fixing;
    double length_m;
  };
  std::vector<Strap> straps;
};

struct KindPieces {
  std::vector<PieceSize> sizes;
  Figure area;  ///< of one orthosis; low and high hold 90 % of them
};

/// For a kind whose sizes follow its people, 96 persons are drawn, sorted by the area of their outlines and
/// parted into six equal groups; the person nearest to a group's mean area stands for it. Deterministic for a
/// seed. Throws a Failure (data) if the outline cannot be drawn.
KindPieces pieces_of(const Kind& kind, const library::Library& library, std::uint64_t seed);

}  // namespace warmsheet::stock
