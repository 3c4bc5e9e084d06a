// SPDX-License-Identifier: MIT
// A design tried on every size of person before anybody cuts sheet by it.
#pragma once

#include <vector>

#include "outline/outline.h"

namespace warmsheet::outline {

/// Draws the design for limbs from the smallest to the largest that its measures allow (each measure at the
/// same place between its usual low and high), and for limbs on which one measure is larger or smaller than
/// the others by an eighth. Returns what went wrong: expressions that cannot be evaluated, shapes that do not
/// close, lines and straps that miss the material, rules and measures that nothing uses, each once with the
/// first limb it happened on; empty if the design fits everybody. Broken rules are not listed: they depend on
/// the person.
std::vector<Problem> fit_problems(const library::Design& design, const library::Library& library);

}  // namespace warmsheet::outline
