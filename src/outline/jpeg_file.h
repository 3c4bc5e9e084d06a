// SPDX-License-Identifier: MIT
// JPEG pictures, as phones and scanners save them, as grey levels. The one door to the library behind it
// (libjpeg-turbo).
#pragma once

#include <string>
#include <string_view>

#include "outline/scan.h"

namespace warmsheet::outline {

/// Colours become grey. The resolution that such a file states is not read: cameras write one at will. Nor is
/// the turn it is to be shown with: an outline is the same when it is turned. Throws a Failure (data): no
/// JPEG, cut short or damaged, inks instead of colours, more than `largest_pixel_count` pixels.
GreyImage parse_jpeg(std::string_view bytes, const std::string& file);

}  // namespace warmsheet::outline
