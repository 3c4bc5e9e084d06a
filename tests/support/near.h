// SPDX-License-Identifier: MIT
// Comparisons with a tolerance that means what it says. The test framework's own approximation adds 1 to the
// scale, so it takes 1e-7 for 9e-6; diffusivities, thicknesses in metres and areas in square metres would
// never fail.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <sstream>
#include <string>

namespace warmsheet::testing {

struct Nearness {
  bool near;
  std::string text;
  explicit operator bool() const { return near; }
};

inline doctest::String toString(const Nearness& nearness) {
  return nearness.text.c_str();
}

inline Nearness compare(double seen, double expected, double allowed, const char* kind) {
  std::ostringstream text;
  text.precision(10);
  text << "saw " << seen << ", expected " << expected << ", off by " << std::abs(seen - expected)
       << ", allowed " << allowed << " (" << kind << ")";
  return {std::isfinite(seen) && std::abs(seen - expected) <= allowed, text.str()};
}

/// |seen - expected| <= rel |expected|. \pre expected is not 0
inline Nearness near_rel(double seen, double expected, double rel) {
  return compare(seen, expected, rel * std::abs(expected), "relative");
}

/// |seen - expected| <= abs, in the unit of both.
inline Nearness near_abs(double seen, double expected, double abs) {
  return compare(seen, expected, abs, "absolute");
}

}  // namespace warmsheet::testing
