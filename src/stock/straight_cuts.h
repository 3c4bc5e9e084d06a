// SPDX-License-Identifier: MIT
// Cutting as it comes with a knife and a straight edge: each outline's blank is taken off a corner of the
// smallest kept offcut that holds it, else of a new sheet, and what remains are again rectangles.
#pragma once

#include <optional>
#include <vector>

#include "stock/turned_boxes.h"

namespace warmsheet::stock {

struct StraightRules {
  double kerf_mm;        ///< lost between two blanks
  double least_side_mm;  ///< narrower rests are thrown away
};

/// What is left after a blank was cut off.
struct Rests {
  std::vector<Rectangle> kept;  ///< at most two
};

/// Takes one of the boxes from a corner so that the largest clean rectangle remains, then the second largest;
/// nothing if none of the boxes fits.
std::optional<Rests> cut_blank(const Rectangle& from, const std::vector<Rectangle>& boxes,
                               const StraightRules& rules);

struct Offcut {
  Rectangle rectangle;
  double since_month;  ///< when its sheet was opened
};

/// Kept offcuts of one stock item, smallest first.
class Drawer {
 public:
  Drawer(StraightRules rules, int most) : rules_(rules), most_(most) {}

  void put(const Offcut& offcut);
  /// Cuts from the smallest offcut that holds one of the boxes; false if none does.
  bool cut_from(const std::vector<Rectangle>& boxes);
  /// Cuts from a new sheet. \pre one of the boxes fits
  void cut_new(const Rectangle& sheet, const std::vector<Rectangle>& boxes, double month);
  void drop_older_than(double month);

  [[nodiscard]] int count() const { return static_cast<int>(offcuts_.size()); }
  [[nodiscard]] double area_mm2() const;
  [[nodiscard]] const std::vector<Offcut>& offcuts() const { return offcuts_; }

 private:
  StraightRules rules_;
  int most_;
  std::vector<Offcut> offcuts_;
};

}  // namespace warmsheet::stock
