// SPDX-License-Identifier: MIT
// An outline: the flat pattern of one orthosis, with its figures; from a file, from measures, or an area
// alone.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/caution.h"
#include "base/figure.h"
#include "base/strict_toml.h"
#include "library/library.h"
#include "outline/polygon.h"

namespace warmsheet::outline {

enum class Side { left, right };
std::string_view side_word(Side side);
Side other_side(Side side);

/// A strap laid across the outline.
struct StrapPlace {
  std::string name;
  std::string fixing;  ///< id of a strap in the library
  double y_mm;         ///< along the limb, in the outline's coordinates
  Figure length;       // m
};

/// A line to mark besides the edge to cut.
struct WorkLine {
  std::string name;
  library::LineKind kind;
  std::string why;
  std::optional<Figure> inset;  ///< m from the edge, if it goes along one
  Figure length;                // m, where it lies on material
  bool inside;                  ///< all of it that should lies on material
  std::vector<Path> parts;      ///< more than one if it crosses a hole or a bay
};

/// A measure that a design was drawn with: taken, or estimated from others.
struct UsedMeasure {
  library::Measure measure;
  Figure value;
};

/// Id of the check that a design is not for this person's precautions.
inline constexpr std::string_view is_not_check = "is_not";

/// A rule of the trade that the finished outline was checked against.
struct RuleCheck {
  std::string id;
  bool kept;
  Phrase says;  ///< with the figures that decide
};

struct Outline {
  std::string name;
  Polygon shape;
  Figure area;       // m2, shown in cm2
  Figure width;      // m, shown in mm
  Figure height;     // m, shown in mm
  Figure perimeter;  // m, shown in mm
  Figure holes;      // ratio, count
  std::vector<StrapPlace> straps;
  std::vector<WorkLine> lines = {};
  std::vector<UsedMeasure> measures = {};  ///< in the design's order; none for a file
  std::vector<RuleCheck> checks;
  std::optional<std::string> design;  ///< id, if it was drawn from measures
  /// Of the body it is for; a file may not say it.
  std::optional<Side> side = {};
  std::string body_part = {};  ///< of that side, as its design says: "wrist"
  std::string is_not = {};     ///< what its design says of its limits: "for a limb that still swells"
  bool turned_over = false;    ///< the mirror image of what its file shows
  std::vector<std::string> unused = {};  ///< measures that were given and decide nothing of it
};

/// Turned over, with all that is marked on it: for the other side of the body, where its side is known.
Outline mirrored(Outline outline);

/// A typed measure and where it was typed.
using Measures = std::map<std::string, Figure>;

/// Evaluates a design for one person. A design is drawn for the right hand with its outer face up and its
/// distal end up (+y), the origin at the wrist; the left side is its mirror image. Throws a Failure (data)
/// listing all missing measures at once with how to take them, or the place of an expression that cannot be
/// evaluated, or the geometry that does not close.
Outline draw(const library::Design& design, const library::Library& library, const Measures& measures,
             Side side);

/// Long and short side of a sheet of paper, mm.
struct PaperSize {
  double long_mm;
  double short_mm;
  const char* name;
};
inline constexpr PaperSize a4_paper{297.0, 210.0, "A4"};          // ISO 216
inline constexpr PaperSize letter_paper{279.4, 215.9, "letter"};  // 11 x 8.5 in

/// Limits of a pattern of which somebody states the area only: a finger cap to a large trunk piece.
inline constexpr Limits area_limits_m2{1e-4, 1.0};

/// Limits of one measure of a person in a file: a newborn's finger to a leg.
inline constexpr Limits measure_limits_m{0.005, 1.2};

/// Limits of what `ReadOptions` takes from people, m.
inline constexpr Limits unit_limits_m{1e-7, 1.0};
inline constexpr Limits tolerance_limits_m{1e-6, 5e-3};

/// Where whoever reads a message can state what a file leaves open.
enum class AskFor {
  option,  ///< on the command line
  key      ///< in a file that names this one: outline = { file = "...", unit = "1 mm" }
};

/// How to read a file that does not say it all.
struct ReadOptions {
  /// Length of one user unit, for SVG, DXF and CSV files that do not state theirs; of one pixel for a scan,
  /// where it goes before what the file says.
  std::optional<Length> user_unit = {};
  /// Largest distance between a curve and its chords.
  Length tolerance{1e-4};
  /// Read only what lies in this layer of an SVG or DXF file. Without it, a layer, group or shape named
  /// "cut" is read alone if there is one, and everything otherwise.
  std::optional<std::string> layer = {};
  /// The picture is a photo of a pattern on a whole sheet of this paper, not a scan.
  std::optional<PaperSize> paper = {};
  /// The side of the body it was traced on, outer face up, where the file does not say it.
  std::optional<Side> traced = {};
  /// The side it is wanted for: the other one's pattern is turned over.
  std::optional<Side> side = {};
  AskFor ask = AskFor::option;
};

/// What a file may leave open, and `ReadOptions` tells.
enum class LeftOpen { unit, tolerance, layer, photo };

/// How each is asked for: a key where a file names the outline; with "--" before it, an option.
struct OpenWord {
  std::string_view word;
  LeftOpen what;
};
inline constexpr std::array open_words{
    OpenWord{"unit", LeftOpen::unit}, OpenWord{"tolerance", LeftOpen::tolerance},
    OpenWord{"layer", LeftOpen::layer}, OpenWord{"photo", LeftOpen::photo}};

/// True if files with this ending leave it open: a list of points has no curves, a drawing is no photo.
bool leaves_open(std::string_view path, LeftOpen what);

/// True if the name ends like a file that `read` reads.
bool is_outline_name(std::string_view path);

/// Reads .svg, .dxf, .csv, .toml, or a scan or photo (.png, .jpg, .pgm) by its ending. Throws a Failure
/// (usage or data) with the place: also if a side is asked for and nothing says which one was traced.
Outline read(const std::string& path, const ReadOptions& options);
Outline read_svg(std::string_view text, const std::string& file, const ReadOptions& options);
Outline read_dxf(std::string_view text, const std::string& file, const ReadOptions& options);
Outline read_csv(std::string_view text, const std::string& file, const ReadOptions& options);
Outline read_toml(std::string_view text, const std::string& file);

/// Figures of a shape that came from `origin`, e.g. a traced file; area and lengths get the tolerance as
/// their range.
Outline from_polygon(std::string name, Polygon shape, Length tolerance, const Origin& origin);

}  // namespace warmsheet::outline
