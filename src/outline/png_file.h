// SPDX-License-Identifier: MIT
// PNG pictures as grey levels. The one door to the library behind it (libpng).
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/quantity.h"
#include "outline/scan.h"

namespace warmsheet::outline {

struct PngFile {
  GreyImage image;
  std::optional<Length> pixel;  ///< its width, if the file states it
};

/// Colours become grey, what is transparent becomes white. Throws a Failure (data): no PNG, cut short or
/// damaged, more than `largest_pixel_count` pixels, pixels that are not square, a resolution no scanner has.
PngFile parse_png(std::string_view bytes, const std::string& file);

}  // namespace warmsheet::outline
