// SPDX-License-Identifier: MIT
// JPEG pictures, as phones and scanners save them, as grey levels. The one door to the library behind it
// (libjpeg-turbo).
#pragma once

#include <string>
#include <string_view>

#include "outline/scan.h"

namespace warmsheet::outline {

/// Colours become grey, and the picture is turned as it is to be shown. Throws a Failure (data): no JPEG, cut
/// short or damaged, inks instead of colours, more than `largest_pixel_count` pixels.
Picture parse_jpeg(std::string_view bytes, const std::string& file);

}  // namespace warmsheet::outline
