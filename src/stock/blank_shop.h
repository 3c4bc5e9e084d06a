// SPDX-License-Identifier: MIT
// Blanks cut ahead: a few rectangles for each kind of orthosis, cut from whole sheets by guillotine patterns.
// An orthosis takes the smallest blank in the box that holds it; when there is none, one more sheet is cut
// up.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "stock/patterns.h"
#include "stock/pieces.h"

namespace warmsheet::stock {

struct BlankKind {
  std::size_t kind;  ///< index in the caseload
  Rectangle size;    ///< whole half centimetres, as a person marks them
  double per_month;  ///< outlines that it is meant for
};

class BlankShop {
 public:
  /// `usable`: the sheet less its margin. `per_month[k]`: pieces of kind k a month; 0 for kinds of other
  /// items.
  BlankShop(const Rectangle& usable, double kerf_mm, const std::vector<KindPieces>& kinds,
            const std::vector<double>& per_month);

  [[nodiscard]] const std::vector<BlankKind>& blanks() const { return blanks_; }
  /// Patterns of the fractional plan for the mean demand, sheets a month each; behind them one for each blank
  /// alone.
  [[nodiscard]] const std::vector<PatternUse>& patterns() const { return patterns_; }
  /// Sheets a month that no cutting to these blanks can go below.
  [[nodiscard]] double bound_per_month() const { return bound_; }
  /// Kinds with a blank that no sheet holds.
  [[nodiscard]] const std::vector<std::size_t>& misfits() const { return misfits_; }

  /// Blanks that hold this size of this kind, smallest first.
  [[nodiscard]] const std::vector<std::size_t>& holding(std::size_t kind, std::size_t size) const {
    return holding_[kind][size];
  }
  /// The pattern to cut when `needed` has run out: it holds that blank, and most of the rest is soon wanted.
  [[nodiscard]] const Pattern& pattern_for(std::size_t needed, const std::vector<int>& in_box) const;

 private:
  void make_blanks(const std::vector<KindPieces>& kinds, const std::vector<double>& per_month);
  void find_holding(const std::vector<KindPieces>& kinds);
  void plan(const Rectangle& usable, double kerf_mm);

  std::vector<BlankKind> blanks_;
  std::vector<std::vector<std::vector<std::size_t>>> holding_;
  std::vector<PatternUse> patterns_;
  std::vector<std::size_t> misfits_;
  double bound_ = 0.0;
};

}  // namespace warmsheet::stock
