// SPDX-License-Identifier: MIT
// The piece that is to be made, as the mechanics and the stock need it: from the user's outline or area where
// there is one, else the usual piece of the condition.
#pragma once

#include <optional>
#include <vector>

#include "base/figure.h"
#include "library/condition.h"
#include "library/library.h"
#include "outline/outline.h"

namespace warmsheet::choice {

/// Extent of the flat piece turned by some angle, m.
struct Extent {
  double along_m;
  double across_m;
};

struct Piece {
  Figure area;       // m2
  Figure perimeter;  // m
  Figure girth;      // m, of the limb at the bending section
  Figure cover;      // m, width of the strip of sheet there, along the arc
  Figure lever;      // m, from there to the push
  Figure span;       // m, from there back to the proximal end
  Figure force;      // N
  Figure form_time;  // s
  Finding palm_width;
  Finding palm_rise;
  bool closed;
  bool lasting;
  bool traced = false;          ///< from a file, whose distal end is taken to lie up
  std::vector<Extent> extents;  ///< at every angle worth trying on a sheet

  /// How many lie side by side on a sheet, all turned the same way, in straight rows, `spacing_m` apart and
  /// `margin_m` from the edge. Nesting does better: safe side.
  [[nodiscard]] int count_on(double length_m, double width_m, double spacing_m, double margin_m) const;
};

struct PieceRequest {
  std::optional<outline::Outline> outline;
  std::optional<Figure> area;   ///< of the flat pattern, if only that is known
  std::optional<Figure> girth;  ///< of the limb where the piece bends
  std::optional<Figure> force;  ///< the push
  std::optional<Figure> form_time;
};

/// An outline is read with its distal end at the top (+y).
Piece piece_for(const library::UsualPiece& usual, const PieceRequest& request);

}  // namespace warmsheet::choice
