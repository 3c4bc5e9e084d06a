// SPDX-License-Identifier: MIT
// A design in a few sizes for a clinic's stock of paper patterns, and how many people they fit.
#pragma once

#include <string>
#include <vector>

#include "outline/outline.h"

namespace warmsheet::outline {

/// The most sizes in a set.
inline constexpr int most_sizes = 8;

struct Size {
  std::string name;  ///< "S", "M" ...
  Outline outline;
  Figure share;  ///< of adults, that it fits best
};

struct SizeSet {
  std::vector<Size> sizes;       ///< from small to large
  Figure fit;                    ///< how far a measure may be off the size's
  Figure coverage;               ///< share of adults that some size fits
  Figure reach;                  ///< share that any number of such sizes could fit
  Finding for_most;              ///< how many sizes fit 90 % of adults
  std::vector<Figure> by_count;  ///< coverage of the best set of 1, 2 ... sizes
};

/// What a size forgives if nothing else is said.
Figure usual_fit();

/// The best set of `count` sizes. Sizes lie on the line along which people differ most; one fits a person if
/// every measure the design takes lies within `fit` of the size's. Throws a Failure (data) if the design
/// takes a measure of which no distribution is known. \pre 1 <= count <= most_sizes
SizeSet size_set(const library::Design& design, const library::Library& library, int count, const Figure& fit,
                 Side side);

}  // namespace warmsheet::outline
