// SPDX-License-Identifier: MIT
// The shipped library and measures of invented people, for tests that draw.
#pragma once

#include <string>

#include "library/library.h"
#include "outline/outline.h"
#include "outline/people.h"

namespace warmsheet::testing {

inline const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

inline Figure entered_mm(const std::string& id, double mm) {
  return Figure::entered(id, Range::exactly(mm * 1e-3), units::millimetre(), {"--measure", 0, 0});
}

/// What the design asks for, of this person.
inline outline::Measures measures_for(const library::Design& design, const Person& person) {
  outline::Measures measures;
  for (const std::string& id : design.measures) measures.emplace(id, entered_mm(id, person.at(id)));
  return measures;
}

/// The usual value of every measure: an adult between the sexes.
inline Person usual_adult() {
  Person person;
  for (const auto& [id, measure] : shipped().measures) person[id] = measure.usual.value();
  return person;
}

}  // namespace warmsheet::testing
