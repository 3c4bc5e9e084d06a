// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <utility>

#include "base/file.h"
#include "base/text.h"
#include "outline/outline.h"
#include "outline/readers.h"
#include "outline/scan.h"

namespace warmsheet::outline {
namespace {

constexpr double m_per_mm = 1e-3;
/// A4 at 600 dots per inch, one byte a pixel.
constexpr std::size_t largest_scan_bytes = 48UL * 1024 * 1024;

struct Format {
  std::string_view ending;
  std::size_t largest_bytes;
  Outline (*read)(std::string_view bytes, const std::string& file, const ReadOptions& options);
};

/// A list of points states its unit itself.
Outline read_points(std::string_view bytes, const std::string& file, const ReadOptions&) {
  return read_toml(bytes, file);
}

constexpr std::array formats{
    Format{".svg", largest_input_bytes, read_svg}, Format{".dxf", largest_input_bytes, read_dxf},
    Format{".csv", largest_input_bytes, read_csv}, Format{".toml", largest_input_bytes, read_points},
    Format{".pgm", largest_scan_bytes, read_pgm},  Format{".png", largest_scan_bytes, read_png},
    Format{".jpg", largest_scan_bytes, read_jpeg}, Format{".jpeg", largest_scan_bytes, read_jpeg},
};

/// Cameras write .JPG.
std::string ending_of(std::string_view path) {
  return lower_case(std::filesystem::path(path).extension().string());
}

const Format* format_of(std::string_view path) {
  const std::string ending = ending_of(path);
  const auto* found =
      std::find_if(formats.begin(), formats.end(), [&](const Format& f) { return f.ending == ending; });
  return found == formats.end() ? nullptr : found;
}

/// Spread on both sides; a length or an area does not fall below zero.
Range give_or_take(double value, double by) {
  return {value, value > by ? value - by : 0.0, value + by};
}

}  // namespace

bool is_outline_name(std::string_view path) {
  return format_of(path) != nullptr;
}

Outline read(const std::string& path, const ReadOptions& options) {
  if (const Format* format = format_of(path))
    return format->read(read_file(path, format->largest_bytes), path, options);
  const std::string ending = ending_of(path);
  throw Failure(Problem{
      Trouble::usage,
      {path, 0, 0},
      ending.empty() ? "the file has no ending that tells its format"
                     : fmt::format("outlines are not read from '{}' files", ending),
      "give a .svg, .dxf, .csv or .toml file, or a scan or photo saved as .png, .jpg or .pgm, in its full "
      "size"});
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
