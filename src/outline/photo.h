// SPDX-License-Identifier: MIT
// A photo of a sheet of paper of known size, made flat: its corners are found and the picture is turned back
// into the one a scanner would have taken.
#pragma once

#include <string>

#include "outline/outline.h"
#include "outline/scan.h"

namespace warmsheet::outline {

/// A flat picture of the paper less a narrow rim.
struct FlatPhoto {
  GreyImage image;
  Length pixel;
};

/// The paper must lie whole in the picture on a darker ground. Throws a Failure (data): no such sheet; a
/// sheet that is cut off, bent, of other proportions than `paper`, seen too much from the side, or with
/// something on its rim.
FlatPhoto flattened(const GreyImage& photo, const PaperSize& paper, const std::string& file);

/// The pattern on the flattened photo. Its area is stated to 2 %: what a flat sheet and a plain lens allow.
Outline read_photo(const GreyImage& photo, const PaperSize& paper, const std::string& file,
                   const ReadOptions& options);

}  // namespace warmsheet::outline
