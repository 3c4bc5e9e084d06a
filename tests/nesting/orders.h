// SPDX-License-Identifier: MIT
// Orders for the tests, and a check of layouts that shares no code with the room: it talks to GEOS by itself.
#pragma once

#include <string>
#include <vector>

#include "nesting/nest.h"

namespace warmsheet::testing {

outline::Polygon rectangle(double width_mm, double height_mm);
outline::Polygon polygon(std::vector<outline::Point> outer,
                         std::vector<std::vector<outline::Point>> holes = {});

/// A rough outline with `corners` corners about a circle of 20 to 60 mm, the same for the same seed; may have
/// a hole.
outline::Polygon random_outline(unsigned seed, int corners, bool hole);

nesting::Piece piece(std::string name, outline::Polygon shape, int copies = 1);
nesting::Stock sheet(double width_mm, double height_mm);
nesting::Stock offcut(outline::Polygon shape);

/// What is wrong with a layout by GEOS's own measure of the true outlines; empty if nothing is.
std::vector<std::string> geos_complaints(const nesting::Order& order, const nesting::Layout& layout);

}  // namespace warmsheet::testing
