// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <utility>

#include "base/dimension.h"
#include "base/file.h"
#include "base/text.h"
#include "outline/outline.h"
#include "outline/readers.h"
#include "outline/scan.h"

namespace warmsheet::outline {
namespace {

/// A4 at 600 dots per inch, one byte a pixel.
constexpr std::size_t largest_scan_bytes = 48UL * 1024 * 1024;

enum class Kind { drawing, points, measured_points, picture };

struct Format {
  std::string_view ending;
  Kind kind;
  std::size_t largest_bytes;
  Outline (*read)(std::string_view bytes, const std::string& file, const ReadOptions& options);
};

/// A list of points states its unit itself.
Outline read_points(std::string_view bytes, const std::string& file, const ReadOptions&) {
  return read_toml(bytes, file);
}

constexpr std::array formats{
    Format{".svg", Kind::drawing, largest_input_bytes, read_svg},
    Format{".dxf", Kind::drawing, largest_input_bytes, read_dxf},
    Format{".csv", Kind::points, largest_input_bytes, read_csv},
    Format{".toml", Kind::measured_points, largest_input_bytes, read_points},
    Format{".pgm", Kind::picture, largest_scan_bytes, read_pgm},
    Format{".png", Kind::picture, largest_scan_bytes, read_png},
    Format{".jpg", Kind::picture, largest_scan_bytes, read_jpeg},
    Format{".jpeg", Kind::picture, largest_scan_bytes, read_jpeg},
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

[[noreturn]] void refuse_side(const std::string& file, std::string message, std::string hint) {
  throw Failure(Problem{Trouble::usage, {file, 0, 0}, std::move(message), std::move(hint)});
}

std::optional<Side> traced_side(const Outline& outline, const ReadOptions& options, const std::string& file) {
  if (outline.side && options.traced && *outline.side != *options.traced)
    refuse_side(file,
                fmt::format("the file says that it was traced on the {} side, not on the {}",
                            side_word(*outline.side), side_word(*options.traced)),
                fmt::format("leave {} out; the side it is wanted for is enough",
                            setting(options, "traced", side_word(*options.traced))));
  return outline.side ? outline.side : options.traced;
}

/// A pattern for the wrong hand fits nobody: it is turned over only where both sides are known, and what is
/// not known is said.
Outline for_side(Outline outline, const ReadOptions& options, const std::string& file) {
  const std::optional<Side> traced = traced_side(outline, options, file);
  if (!traced && options.side)
    refuse_side(file, "the file does not say which side of the body it was traced on",
                fmt::format("give {} if that was the {} one, to draw it as it lies; \"{}\" to turn it over",
                            setting(options, "traced", side_word(*options.side)), side_word(*options.side),
                            side_word(other_side(*options.side))));
  if (!traced) {
    outline.checks.push_back(
        {"side", false,
         Phrase("the file does not say for which side of the body it is; it is drawn as it lies, its outer "
                "face up")});
    return outline;
  }
  outline.side = options.side.value_or(*traced);
  outline.turned_over = outline.side != traced;
  if (outline.turned_over) outline.shape = outline.shape.mirrored();
  outline.name += fmt::format(", {}", side_word(*outline.side));
  return outline;
}

/// Spread on both sides; a length or an area does not fall below zero.
Range give_or_take(double value, double by) {
  return {value, value > by ? value - by : 0.0, value + by};
}

}  // namespace

std::string_view side_word(Side side) {
  return side == Side::left ? "left" : "right";
}

Side other_side(Side side) {
  return side == Side::left ? Side::right : Side::left;
}

bool leaves_open(std::string_view path, LeftOpen what) {
  const Format* format = format_of(path);
  if (format == nullptr) return true;  // refused for its ending
  switch (what) {
    case LeftOpen::unit:
      return format->kind != Kind::measured_points;
    case LeftOpen::layer:
      return format->kind == Kind::drawing;
    case LeftOpen::photo:
      return format->kind == Kind::picture;
    case LeftOpen::tolerance:
      break;
  }
  return format->kind == Kind::drawing || format->kind == Kind::picture;
}

bool is_outline_name(std::string_view path) {
  return format_of(path) != nullptr;
}

Outline read(const std::string& path, const ReadOptions& options) {
  if (const Format* format = format_of(path))
    return for_side(format->read(read_file(path, format->largest_bytes), path, options), options, path);
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

std::string setting(const ReadOptions& options, std::string_view name, std::string_view value) {
  if (options.ask == AskFor::key)
    return fmt::format("outline = {{ file = \"...\", {} = \"{}\" }}", name, value);
  const bool one_word = value.find(' ') == std::string_view::npos;
  return one_word ? fmt::format("--{} {}", name, value) : fmt::format("--{} \"{}\"", name, value);
}

Outline traced(Polygon shape, const std::string& file, Length tolerance) {
  const std::string name = std::filesystem::path(file).stem().string();
  return from_polygon(name, std::move(shape), tolerance,
                      Origin{.basis = Basis::entered, .where = "drawn in the file", .place = {file, 0, 0}});
}

}  // namespace warmsheet::outline
