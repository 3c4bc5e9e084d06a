// SPDX-License-Identifier: MIT
// What a JPEG file states of itself: its resolution (JPEG File Interchange Format, version 1.02), and how a
// camera was held (Exif 2.3, tag Orientation). The library that unpacks the pixels does not give them.
#pragma once

#include <string_view>

#include "outline/scan.h"

namespace warmsheet::outline {

/// What stands before the pixels; nothing of it may be there, and nothing is thrown.
Resolution stated_by_jfif(std::string_view bytes);

/// Where the first row and the first column of the pixels belong, as Exif numbers them.
enum class Orientation {
  upright = 1,
  mirrored,
  upside_down,
  upside_down_mirrored,
  lying_mirrored_left,
  lying_left,  ///< to be turned clockwise
  lying_mirrored_right,
  lying_right
};
/// Its rows and columns change places when it is shown.
constexpr bool lies(Orientation orientation) {
  return orientation >= Orientation::lying_mirrored_left;
}
/// `upright` where nothing is stated, or nothing that Exif knows.
Orientation stated_orientation(std::string_view bytes);

/// The picture as it is to be shown.
GreyImage shown(GreyImage image, Orientation orientation);

}  // namespace warmsheet::outline
