// SPDX-License-Identifier: MIT
#include "report/measure.h"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <stdexcept>

#include "support/scratch.h"

namespace warmsheet::testing {
namespace {

constexpr double inch_mm = 25.4;
constexpr unsigned char dark_below = 128;
/// A pixel column with less ink than this in every row is no line.
constexpr double faint = 0.1;

Raster read_pgm(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::string magic;
  std::size_t most = 0;
  Raster raster;
  file >> magic >> raster.width >> raster.height >> most;
  file.get();
  if (magic != "P5" || most != 255) throw std::runtime_error("no 8-bit PGM: " + path.string());
  raster.grey.resize(raster.width * raster.height);
  file.read(reinterpret_cast<char*>(raster.grey.data()), static_cast<std::streamsize>(raster.grey.size()));
  if (!file) throw std::runtime_error("cut short: " + path.string());
  return raster;
}

/// Centres of the stretches in which `ink` is above zero.
std::vector<double> centres_mm(const std::vector<double>& ink, double pixels_per_mm) {
  std::vector<double> centres;
  for (std::size_t i = 0; i < ink.size(); ++i) {
    double sum = 0.0;
    double moment = 0.0;
    for (; i < ink.size() && ink[i] > faint; ++i) {
      sum += ink[i];
      moment += ink[i] * (static_cast<double>(i) + 0.5);
    }
    if (sum > 0.0) centres.push_back(moment / sum / pixels_per_mm);
  }
  return centres;
}

}  // namespace

void run_tool(const std::string& command) {
  if (std::system(command.c_str()) != 0) throw std::runtime_error("failed: " + command);
}

Raster render_pdf(const std::filesystem::path& pdf, int page, int dpi) {
  const Scratch scratch;
  const std::string stem = scratch.path("page");
  const std::string number = std::to_string(page);
  run_tool(std::string(PDFTOPPM) + " -gray -singlefile -f " + number + " -l " + number + " -r " +
           std::to_string(dpi) + " '" + pdf.string() + "' '" + stem + "'");
  Raster raster = read_pgm(stem + ".pgm");
  raster.pixels_per_mm = dpi / inch_mm;
  return raster;
}

std::vector<double> longest_dark_runs_mm(const Raster& raster) {
  std::vector<double> longest(raster.height);
  for (std::size_t y = 0; y < raster.height; ++y) {
    std::size_t run = 0;
    std::size_t best = 0;
    for (std::size_t x = 0; x < raster.width; ++x) {
      run = raster.at(x, y) < dark_below ? run + 1 : 0;
      best = std::max(best, run);
    }
    longest[y] = static_cast<double>(best) / raster.pixels_per_mm;
  }
  return longest;
}

std::vector<double> upright_lines_mm(const Raster& raster, double from_mm, double to_mm) {
  std::vector<double> ink(raster.width, 1.0);
  const auto first = static_cast<std::size_t>(from_mm * raster.pixels_per_mm);
  const auto last = static_cast<std::size_t>(to_mm * raster.pixels_per_mm);
  for (std::size_t y = first; y < last; ++y)
    for (std::size_t x = 0; x < raster.width; ++x)
      ink[x] = std::min(ink[x], (255.0 - raster.at(x, y)) / 255.0);
  return centres_mm(ink, raster.pixels_per_mm);
}

std::vector<double> level_lines_mm(const Raster& raster, double from_mm, double to_mm) {
  std::vector<double> ink(raster.height, 1.0);
  const auto first = static_cast<std::size_t>(from_mm * raster.pixels_per_mm);
  const auto last = static_cast<std::size_t>(to_mm * raster.pixels_per_mm);
  for (std::size_t y = 0; y < raster.height; ++y)
    for (std::size_t x = first; x < last; ++x) ink[y] = std::min(ink[y], (255.0 - raster.at(x, y)) / 255.0);
  return centres_mm(ink, raster.pixels_per_mm);
}

}  // namespace warmsheet::testing
