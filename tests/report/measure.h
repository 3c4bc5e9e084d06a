// SPDX-License-Identifier: MIT
// Pictures turned into pixels by programs from outside (librsvg, poppler), and lines found in them.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace warmsheet::testing {

/// Runs a command line; throws std::runtime_error with it if it fails.
void run_tool(const std::string& command);

/// 8-bit grey, rows from the top.
struct Raster {
  std::size_t width = 0;
  std::size_t height = 0;
  std::vector<unsigned char> grey;
  double pixels_per_mm = 1.0;

  [[nodiscard]] unsigned char at(std::size_t x, std::size_t y) const { return grey[y * width + x]; }
};

/// One page of a PDF file at `dpi`.
Raster render_pdf(const std::filesystem::path& pdf, int page, int dpi);

/// Lengths in mm of the longest dark run of each row, rows from the top.
std::vector<double> longest_dark_runs_mm(const Raster& raster);

/// Centres in mm from the left edge of upright lines in the band of rows between the two heights (mm from the
/// top): a column belongs to a line if it is dark over the whole band. Weighted by darkness, so finer than a
/// pixel.
std::vector<double> upright_lines_mm(const Raster& raster, double from_mm, double to_mm);
/// The same for level lines in a band of columns.
std::vector<double> level_lines_mm(const Raster& raster, double from_mm, double to_mm);

}  // namespace warmsheet::testing
