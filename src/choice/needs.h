// SPDX-License-Identifier: MIT
// Needs of a condition held against one item: which number or grade a need looks at, what it is worth, and
// whether a hard need is met. Measured needs have a value between poor and good. Grades stay ordinal: a hard
// need compares them, a soft need gives them a worth through a scale that every draw makes anew (rank.h).
#pragma once

#include <vector>

#include "choice/choose.h"
#include "choice/rank.h"
#include "choice/stiffness.h"

namespace warmsheet::choice {

/// One stock item with all that needs look at.
struct Candidate {
  const library::Sheet* sheet;
  const library::StockItem* stock;
  ItemMechanics mechanics;
  Numbers central;
  int pieces_on_sheet;  ///< cut in straight rows
  Finding window;       ///< s, working window
  bool perforated;

  /// Handling grade that a graded need looks at. Holes cap the edge finish at low: cut through holes an edge
  /// stays rough and wants edging (common practice, no source).
  [[nodiscard]] library::Grade grade(std::string_view need) const;
  [[nodiscard]] const library::GradedTrait& trait(std::string_view need) const;
};

/// What needs look at beside the candidate, central or drawn.
struct Situation {
  double form_time_s;
  double perimeter_m;
  double area_m2;
  double window_s;  ///< of this candidate; 0 if unknown
  double cheapest;  ///< cost of the cheapest piece among the candidates
  double price;     ///< of this candidate's sheet
};

/// The number a measured need looks at, SI.
double measure(const library::Need& need, const Candidate& candidate, const Numbers& numbers,
               const Situation& situation);

/// 0 to 1. An unknown window is worth half: it speaks neither for nor against.
double worth(const library::Need& need, const Candidate& candidate, const Numbers& numbers,
             const Situation& situation, const GradeScale& scale);

/// How far a hard need is missed: 0 if it is met, else the shortfall over the distance from poor to good, or
/// the grades that are missing.
double shortfall(const library::Need& need, const Candidate& candidate, const Numbers& numbers,
                 const Situation& situation);

/// True if the need is graded.
bool is_graded(const library::Need& need);

/// Price of the part of a sheet that one piece takes.
double cost_of_piece(double price, int pieces_on_sheet);

/// What one piece leaves of its part of the sheet.
double waste_of_piece(const Candidate& candidate, double area_m2);

}  // namespace warmsheet::choice
