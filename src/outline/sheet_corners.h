// SPDX-License-Identifier: MIT
// The corners of a sheet of paper on a photo.
#pragma once

#include <string>

#include "outline/projection.h"
#include "outline/scan.h"

namespace warmsheet::outline {

/// Corners of the largest piece lighter than `level`, in pixels, y up, counter-clockwise, to a fraction of a
/// pixel. Throws a Failure (data): there is none, it runs off the photo, it has no four straight sides.
Corners sheet_corners(const GreyImage& photo, double level, const std::string& file);

}  // namespace warmsheet::outline
