// SPDX-License-Identifier: MIT
// Closed level lines of a grey image, and their simplification.
#pragma once

#include <vector>

#include "outline/polygon.h"
#include "outline/scan.h"

namespace warmsheet::outline {

/// The level that parts an image's dark and light pixels best (Otsu 1979: largest variance between the two
/// classes); of the pixels above `low` and up to `high` only.
double parting_level(const GreyImage& image, double low = -1.0, double high = 255.0);

/// Each grey level replaced by the middle one of its 3 x 3 neighbours: specks of one pixel go, edges stay.
GreyImage without_specks(const GreyImage& image);

/// Closed lines at `level`, in pixels, x to the right and y up, pixel centres at whole numbers; the higher
/// side lies to the left. The image is taken to go on with `outside` beyond its border, so every line closes.
inline constexpr std::size_t most_crossings = 2'000'000;
std::vector<Ring> level_lines(const GreyImage& image, double level, double outside);

/// Fewer corners, none of the old ones farther than `tolerance` from the new edge (Douglas and Peucker 1973).
Ring simplified(const Ring& ring, double tolerance);

}  // namespace warmsheet::outline
