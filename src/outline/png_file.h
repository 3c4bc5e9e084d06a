// SPDX-License-Identifier: MIT
// PNG pictures as grey levels. The one door to the library behind it (libpng).
#pragma once

#include <string>
#include <string_view>

#include "outline/scan.h"

namespace warmsheet::outline {

/// Colours become grey, what is transparent becomes white. Throws a Failure (data): no PNG, cut short or
/// damaged, more than `largest_pixel_count` pixels.
Picture parse_png(std::string_view bytes, const std::string& file);

}  // namespace warmsheet::outline
