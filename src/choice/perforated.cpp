// SPDX-License-Identifier: MIT
#include "choice/perforated.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace warmsheet::choice {
namespace {

struct CodeRow {
  double thickness_over_pitch;
  std::array<double, 5> coefficients;  // of 1, mu, mu^2, mu^3, mu^4
};

// ASME BPVC section VIII division 1, part UHX, effective elastic modulus; the coefficients were read in a
// public tube-sheet program, not in the code itself.
constexpr std::array<CodeRow, 4> triangular{{{0.10, {0.0353, 1.2502, -0.0491, 0.3604, -0.6100}},
                                             {0.25, {0.0135, 0.9910, 1.0080, -1.0498, 0.0184}},
                                             {0.50, {0.0054, 0.5279, 3.0461, -4.3657, 1.9435}},
                                             {2.00, {-0.0029, 0.2126, 3.9906, -6.1730, 3.4307}}}};
constexpr std::array<CodeRow, 4> square{{{0.10, {0.0676, 1.5756, -1.2119, 1.7715, -1.2628}},
                                         {0.25, {0.0250, 1.9251, -3.5230, 6.9830, -5.0017}},
                                         {0.50, {0.0394, 1.3024, -1.1041, 2.8714, -2.3994}},
                                         {2.00, {0.0372, 1.0314, -0.6402, 2.6201, -2.1929}}}};
constexpr double least_ligament = 0.1;
constexpr double most_ligament = 0.6;

double polynomial(const CodeRow& row, double mu) {
  double sum = 0.0;
  for (auto c = row.coefficients.rbegin(); c != row.coefficients.rend(); ++c) sum = sum * mu + *c;
  return sum;
}

}  // namespace

double ligament_efficiency(double hole_m, double pitch_m) {
  return (pitch_m - hole_m) / pitch_m;
}

std::optional<double> code_modulus_share(library::Lattice lattice, double ligament,
                                         double thickness_over_pitch) {
  if (ligament < least_ligament || ligament > most_ligament) return std::nullopt;
  const auto& rows = lattice == library::Lattice::triangular ? triangular : square;
  const double at =
      std::clamp(thickness_over_pitch, rows.front().thickness_over_pitch, rows.back().thickness_over_pitch);
  std::size_t upper = 1;
  while (rows[upper].thickness_over_pitch < at) ++upper;
  const CodeRow& a = rows[upper - 1];
  const CodeRow& b = rows[upper];
  const double along = (at - a.thickness_over_pitch) / (b.thickness_over_pitch - a.thickness_over_pitch);
  return (1.0 - along) * polynomial(a, ligament) + along * polynomial(b, ligament);
}

double closed_form_modulus_share(double open_area) {
  return (1.0 - open_area) / (1.0 + 2.0 * open_area);
}

Range modulus_share(const library::Perforation& perforation, double thickness_m) {
  if (!perforation.holes) return Range::exactly(1.0);
  const auto& holes = *perforation.holes;
  const double closed = closed_form_modulus_share(holes.open_area.si());
  const double ligament = ligament_efficiency(holes.diameter.si(), holes.pitch.si());
  const auto code = code_modulus_share(holes.lattice, ligament, thickness_m / holes.pitch.si());
  const double other = code ? std::min(*code, 1.0) : closed;
  return {std::min(closed, other), std::min(closed, other), std::max(closed, other)};
}

double strength_share(const library::Perforation& perforation) {
  if (!perforation.holes) return 1.0;
  return ligament_efficiency(perforation.holes->diameter.si(), perforation.holes->pitch.si());
}

}  // namespace warmsheet::choice
