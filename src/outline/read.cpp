// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <filesystem>
#include <utility>

#include "base/file.h"
#include "outline/outline.h"
#include "outline/readers.h"
#include "outline/scan.h"

namespace warmsheet::outline {
namespace {

constexpr double m_per_mm = 1e-3;
/// A4 at 600 dots per inch, one byte a pixel.
constexpr std::size_t largest_scan_bytes = 48UL * 1024 * 1024;

std::string lower(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

/// Spread on both sides; a length or an area does not fall below zero.
Range give_or_take(double value, double by) {
  return {value, value > by ? value - by : 0.0, value + by};
}

}  // namespace

Outline read(const std::string& path, const ReadOptions& options) {
  const std::string ending = lower(std::filesystem::path(path).extension().string());
  if (ending == ".svg") return read_svg(read_file(path), path, options);
  if (ending == ".dxf") return read_dxf(read_file(path), path, options);
  if (ending == ".csv") return read_csv(read_file(path), path, options);
  if (ending == ".toml") return read_toml(read_file(path), path);
  if (ending == ".pgm") return read_pgm(read_file(path, largest_scan_bytes), path, options);
  if (ending == ".png") return read_png(read_file(path, largest_scan_bytes), path, options);
  throw Failure(
      Problem{Trouble::usage,
              {path, 0, 0},
              ending.empty() ? "the file has no ending that tells its format"
                             : fmt::format("outlines are not read from '{}' files", ending),
              "give a .svg, .dxf, .csv or .toml file, or a scan or photo saved as .png or .pgm, in its "
              "full size"});
}

Outline from_polygon(std::string name, Polygon shape, Length tolerance, const Origin& origin) {
  const auto stated = [&](std::string what, const Range& si, const Unit& unit) {
    return Figure::stated(std::move(what), si, unit, origin);
  };
  const double perimeter_m = shape.perimeter_mm() * m_per_mm;
  const double area_m2 = shape.area_mm2() * m_per_mm * m_per_mm;
  const double both_sides = 2.0 * tolerance.si;
  return {
      .name = std::move(name),
      .shape = shape,
      .area = stated("area", give_or_take(area_m2, tolerance.si * perimeter_m), units::square_centimetre()),
      .width =
          stated("width", give_or_take(shape.box().width_mm() * m_per_mm, both_sides), units::millimetre()),
      .height =
          stated("height", give_or_take(shape.box().height_mm() * m_per_mm, both_sides), units::millimetre()),
      .perimeter = stated("perimeter", give_or_take(perimeter_m, both_sides), units::millimetre()),
      .holes = stated("holes", Range::exactly(static_cast<double>(shape.holes().size())), units::one()),
      .straps = {},
      .checks = {},
      .design = std::nullopt};
}

void check_options(const ReadOptions& options) {
  constexpr double finest_m = 1e-9;
  constexpr double coarsest_m = 5e-3;  // beyond this a curve is no longer the one that was drawn
  if (!(options.tolerance.si >= finest_m && options.tolerance.si <= coarsest_m))
    throw Failure(Problem{Trouble::usage,
                          {},
                          "the tolerance of curves must lie between 0.000001 mm and 5 mm",
                          "leave it out, or give for example 0.1mm"});
  if (options.user_unit && !(options.user_unit->si > 0.0))
    throw Failure(Problem{Trouble::usage,
                          {},
                          "the unit of the drawing must be a length above zero",
                          "give for example 1mm, or \"1/96 in\""});
}

Outline traced(Polygon shape, const std::string& file, Length tolerance) {
  const std::string name = std::filesystem::path(file).stem().string();
  return from_polygon(name, std::move(shape), tolerance,
                      Origin{.basis = Basis::entered, .where = "drawn in the file", .place = {file, 0, 0}});
}

}  // namespace warmsheet::outline
