// SPDX-License-Identifier: MIT
// An outline from a flatbed scan of a paper pattern: the cut-out itself on a contrasting ground, filled in,
// or drawn as a line.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "outline/outline.h"

namespace warmsheet::outline {

/// Grey levels row by row from the top, 0 black.
struct GreyImage {
  std::size_t width = 0;
  std::size_t height = 0;
  std::vector<std::uint8_t> grey;
};

/// Dots a metre that a picture file states of itself; zero where it does not.
struct Resolution {
  double x_per_m = 0.0;
  double y_per_m = 0.0;
  bool camera = false;  ///< a camera's data stand beside it
  [[nodiscard]] bool known() const { return x_per_m > 0.0; }
};

struct Picture {
  GreyImage image;
  Resolution stated;
};

/// Most pixels of one scan.
inline constexpr std::size_t largest_pixel_count = 40'000'000;

/// A portable graymap, plain (P2) or raw (P5). Throws a Failure (data): no PGM, cut short, too large.
GreyImage parse_pgm(std::string_view bytes, const std::string& file);

/// `pixel` is the width of one pixel (1/150 in at 150 dpi). What differs from the border of the scan is the
/// pattern; the largest such piece is the outline, openings in it are holes, and specks are left out. A
/// closed line is taken along its middle. Throws a Failure (data): nothing on the scan, no contrast, more
/// than one piece, or a pattern that runs off the scan.
Outline read_scan(const GreyImage& image, Length pixel, const std::string& file, const ReadOptions& options);

/// A graymap, a PNG or a JPEG file: a scan whose pixel size is in `options.user_unit`, else in the file (PNG,
/// JPEG), else a Failure (data) asks for it; or a photo of a sheet of `options.paper`.
Outline read_pgm(std::string_view bytes, const std::string& file, const ReadOptions& options);
Outline read_png(std::string_view bytes, const std::string& file, const ReadOptions& options);
Outline read_jpeg(std::string_view bytes, const std::string& file, const ReadOptions& options);

}  // namespace warmsheet::outline
