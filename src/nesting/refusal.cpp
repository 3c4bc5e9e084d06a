// SPDX-License-Identifier: MIT
#include "nesting/refusal.h"

#include <fmt/format.h>

#include <cmath>
#include <set>
#include <utility>

#include "base/problem.h"

namespace warmsheet::nesting {
namespace {

constexpr int most_copies = 10'000;       // in one order
constexpr double longest_gap_mm = 500.0;  // spacing or margin: more is a slip of the unit
constexpr std::size_t most_angles = 360;

void check_piece(const Piece& piece, Problems& problems) {
  if (piece.copies < 1 || piece.copies > most_copies)
    problems.add({}, fmt::format("{}: {} copies", piece.name, piece.copies),
                 fmt::format("ask for 1 to {} copies", most_copies));
  if (piece.rotations.free) return;
  if (piece.rotations.angles_deg.empty() || piece.rotations.angles_deg.size() > most_angles)
    problems.add({}, fmt::format("{}: {} allowed angles", piece.name, piece.rotations.angles_deg.size()),
                 fmt::format("list 1 to {} angles in degrees, or allow any", most_angles));
  for (const double angle : piece.rotations.angles_deg) {
    if (!std::isfinite(angle))
      problems.add({}, fmt::format("{}: an allowed angle is not a number", piece.name),
                   "write degrees, e.g. 90");
  }
}

void check_gap(double gap_mm, const char* what, Problems& problems) {
  if (std::isfinite(gap_mm) && gap_mm >= 0.0 && gap_mm <= longest_gap_mm) return;
  problems.add({}, fmt::format("the {} is {} mm", what, gap_mm),
               fmt::format("it may be 0 to {} mm", longest_gap_mm));
}

void check_stock(const Stock& stock, Problems& problems) {
  if (stock.count < -1)
    problems.add({}, fmt::format("{}: {} of it in stock", stock.name, stock.count),
                 "give how many there are, or -1 for as many as needed");
  if (!std::isfinite(stock.price) || stock.price < 0.0)
    problems.add({}, fmt::format("{}: its price is {}", stock.name, stock.price), "a price is 0 or more");
}

void check_pieces(const Order& order, Problems& problems) {
  if (order.pieces.empty()) problems.add({}, "there is nothing to place", "give at least one outline");
  check_gap(order.spacing_mm, "spacing between pieces", problems);
  check_gap(order.margin_mm, "margin at the edge of a sheet", problems);
  long copies = 0;
  for (const Piece& piece : order.pieces) {
    check_piece(piece, problems);
    copies += piece.copies;
  }
  if (copies > most_copies)
    problems.add({}, fmt::format("{} copies in all", copies),
                 fmt::format("place at most {} at once", most_copies));
}

void check_fixed(const Order& order, Problems& problems) {
  for (const std::size_t stock : order.fixed_sheets) {
    if (stock >= order.stock.size())
      problems.add({}, "a sheet with fixed pieces is of no stock that was given", "name one of the stock");
  }
  std::set<std::pair<std::size_t, int>> seen;
  for (const Placement& fixed : order.fixed) {
    if (fixed.piece >= order.pieces.size() || fixed.sheet >= order.fixed_sheets.size()) {
      problems.add({}, "a fixed piece names no piece or no sheet", "count both from 0");
      continue;
    }
    const Piece& piece = order.pieces[fixed.piece];
    const std::string which = fmt::format("{} copy {}", piece.name, fixed.copy + 1);
    if (fixed.copy < 0 || fixed.copy >= piece.copies)
      problems.add({}, which + " is fixed and was not asked for", "ask for more copies");
    if (!seen.emplace(fixed.piece, fixed.copy).second)
      problems.add({}, which + " is fixed twice", "fix it once");
    if (fixed.flipped && !piece.may_flip)
      problems.add({}, which + " is fixed face down and may not be flipped", "allow flips, or turn it over");
    if (!std::isfinite(fixed.angle_deg) || !std::isfinite(fixed.move.x_mm) || !std::isfinite(fixed.move.y_mm))
      problems.add({}, which + " is fixed at no place", "write plain numbers");
  }
}

}  // namespace

void refuse_strange_pieces(const Order& order) {
  Problems problems;
  check_pieces(order, problems);
  problems.throw_if_any();
}

void refuse_nonsense(const Order& order) {
  Problems problems;
  check_pieces(order, problems);
  if (order.stock.empty())
    problems.add({}, "there is nothing to place it on", "give a sheet size or a kept offcut");
  for (const Stock& stock : order.stock) check_stock(stock, problems);
  check_fixed(order, problems);
  problems.throw_if_any();
}

}  // namespace warmsheet::nesting
