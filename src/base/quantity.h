// SPDX-License-Identifier: MIT
// Quantities as people write them: "1 1/8 in", "3.2 mm", "158 F", "2 min 30 s", "64 in2".
// One parser serves the command line and every file.
#pragma once

#include <string>
#include <string_view>

#include "base/dimension.h"

namespace warmsheet {

/// A number in SI with its kind in the type. Arithmetic is allowed only where it keeps its meaning:
/// two temperatures differ by a temperature difference, and cannot be added.
template <Dimension D>
struct Quantity {
  double si = 0.0;

  friend constexpr auto operator<=>(Quantity, Quantity) = default;
  friend constexpr Quantity operator+(Quantity a, Quantity b) requires(D != Dimension::temperature) {
    return {a.si + b.si};
  }
  friend constexpr Quantity operator-(Quantity a, Quantity b) requires(D != Dimension::temperature) {
    return {a.si - b.si};
  }
  friend constexpr Quantity operator*(double factor, Quantity a) requires(D != Dimension::temperature) {
    return {factor * a.si};
  }
};

using Length = Quantity<Dimension::length>;
using Area = Quantity<Dimension::area>;
using Duration = Quantity<Dimension::duration>;
using Temperature = Quantity<Dimension::temperature>;
using TemperatureDifference = Quantity<Dimension::temperature_difference>;

constexpr TemperatureDifference operator-(Temperature a, Temperature b) {
  return {a.si - b.si};
}
constexpr Temperature operator+(Temperature a, TemperatureDifference b) {
  return {a.si + b.si};
}
constexpr Temperature operator-(Temperature a, TemperatureDifference b) {
  return {a.si - b.si};
}

/// A quantity read from text: its SI value and the unit it was written in (the last one of "2 min 30 s").
struct Written {
  double si;
  const Unit* unit;
};

/// Parses text of a known kind. Decimal points only; fractions, mixed numbers and vulgar fractions are fine.
/// Throws a Failure (Trouble::data) that says what was seen and shows a form that would be accepted: no unit,
/// unknown unit, decimal comma, no number, zero denominator, or outside `physical_bounds(dimension)`; and
/// whatever has two readings ("3 2 mm", "1 9/8 in", "2 min 90 s"). Only a ratio may stand without a unit.
Written parse_quantity(std::string_view text, Dimension dimension);

/// What to tell somebody who wrote a word that is no unit of this kind.
std::string unit_hint(std::string_view word, Dimension dimension);

template <Dimension D>
Quantity<D> parse(std::string_view text) {
  return {parse_quantity(text, D).si};
}

/// "210 x 297 mm", "210mmx297mm", "8 1/2 x 11 in": two lengths; a unit at the end serves both.
struct WrittenSize {
  Length width;
  Length height;
};
WrittenSize parse_size(std::string_view text);
/// True if the text has a sign for "times", so that only parse_size can read it.
bool is_size(std::string_view text);

/// Digits that read back to exactly the same SI value, then the unit: for files and round trips. The unit is
/// the one without a factor where `unit` has no number for exactly this value.
std::string write_exact(double si, const Unit& unit);

/// A bound typed in another unit, or added up from parts, differs in the last digits: how much of that is no
/// trespass.
constexpr double rounding_slack(double bound_si) {
  return 1e-12 * (bound_si < 0.0 ? -bound_si : bound_si);
}

}  // namespace warmsheet
