// SPDX-License-Identifier: MIT
// How measures are taken, as figures with their text.
#pragma once

#include <vector>

#include "outline/outline.h"
#include "report/document.h"

namespace warmsheet::report {

/// One figure for each measure that a design needs, with how to take it.
std::vector<Sketch> measure_sketches(const library::Design& design, const library::Library& library);

/// The measures an outline was drawn with, each with its figure and its value.
Section measures_section(const outline::Outline& outline);

}  // namespace warmsheet::report
