// SPDX-License-Identifier: MIT
#include "choice/needs.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace warmsheet::choice {
namespace {

bool needs_edging(const Candidate& candidate) {
  return candidate.grade("edges") <= library::Grade::low;
}

}  // namespace

const library::GradedTrait& Candidate::trait(std::string_view need) const {
  const library::Handling& handling = sheet->handling;
  if (need == "memory") return handling.memory;
  if (need == "drape") return handling.drape;
  if (need == "control") return handling.resistance_to_stretch;
  if (need == "bonding") return handling.bonding;
  if (need == "edges") return handling.edge_finish;
  throw std::logic_error("not a graded need: " + std::string(need));
}

library::Grade Candidate::grade(std::string_view need) const {
  const library::Grade seen = trait(need).grade;
  return need == "edges" && perforated ? std::min(seen, library::Grade::low) : seen;
}

bool is_graded(const library::Need& need) {
  return need.grade.has_value();
}

double cost_of_piece(double price, int pieces_on_sheet) {
  return price / std::max(pieces_on_sheet, 1);
}

double waste_of_piece(const Candidate& candidate, double area_m2) {
  const double sheet_m2 = candidate.stock->length.si() * candidate.stock->width.si();
  return std::max(0.0, 1.0 - std::max(candidate.pieces_on_sheet, 1) * area_m2 / sheet_m2);
}

double measure(const library::Need& need, const Candidate& candidate, const Numbers& numbers,
               const Situation& situation) {
  if (need.id == "rigidity") return numbers.give_rad;
  if (need.id == "strength") return numbers.strength;
  if (need.id == "lightness") return numbers.mass_kg;
  if (need.id == "ventilation") return numbers.open_area;
  if (need.id == "time") return situation.window_s / situation.form_time_s;
  if (need.id == "squeeze") return numbers.squeeze_Pa;
  if (need.id == "edging") return needs_edging(candidate) ? situation.perimeter_m : 0.0;
  if (need.id == "cost") {
    const double cost = cost_of_piece(situation.price, candidate.pieces_on_sheet);
    return cost > 0.0 ? situation.cheapest / cost : 1.0;
  }
  if (need.id == "waste") return waste_of_piece(candidate, situation.area_m2);
  throw std::logic_error("not a measured need: " + need.id);
}

double worth(const library::Need& need, const Candidate& candidate, const Numbers& numbers,
             const Situation& situation, const GradeScale& scale) {
  constexpr double unknown = 0.5;
  if (is_graded(need)) return grade_worth(scale, candidate.grade(need.id), *need.grade, need.at_most);
  if (need.id == "time" && !candidate.window.known()) return unknown;
  return measured_worth(measure(need, candidate, numbers, situation), need.poor->si(), need.good->si());
}

double shortfall(const library::Need& need, const Candidate& candidate, const Numbers& numbers,
                 const Situation& situation) {
  if (is_graded(need)) {
    const int missing = static_cast<int>(*need.grade) - static_cast<int>(candidate.grade(need.id));
    return std::max(0, need.at_most ? -missing : missing);
  }
  if (need.id == "time" && !candidate.window.known()) return 0.0;
  const double seen = measure(need, candidate, numbers, situation);
  return std::max(0.0, (need.poor->si() - seen) / (need.good->si() - need.poor->si()));
}

}  // namespace warmsheet::choice
