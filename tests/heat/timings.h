// SPDX-License-Identifier: MIT
// Timings of the shipped library's sheets, for the tests of the front door.
#pragma once

#include "heat/situation.h"
#include "heat/timing.h"

namespace warmsheet::heat_tests {

inline const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

inline Figure stated(const char* name, double si, const Unit& unit, Basis basis = Basis::memory) {
  return Figure::stated(name, Range::exactly(si), unit, {.basis = basis});
}

inline const Unit& unit(Dimension dimension) {
  return *units_of(dimension).front();
}

inline Request request(int samples = 0) {
  Request r;
  r.sheet = "elastic-clear";
  r.samples = samples;
  return r;
}

inline Timing timing_of(const Request& r) {
  return time(resolve(shipped(), r));
}
inline double seconds(const Finding& finding) {
  return finding.figure().si();
}

}  // namespace warmsheet::heat_tests
