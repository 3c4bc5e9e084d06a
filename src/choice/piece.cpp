// SPDX-License-Identifier: MIT
#include "choice/piece.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "base/problem.h"

namespace warmsheet::choice {
namespace {

constexpr double mm_per_m = 1e3;
// Where only the area is known: outlines fill about three quarters of the rectangle around them.
constexpr double box_fill = 0.75;
constexpr int angles_tried = 180;

Range times(Range a, Range b) {
  return {a.value * b.value, a.low * b.low, a.high * b.high};
}
Range minus(Range a, Range b) {
  return {a.value - b.value, a.low - b.high, a.high - b.low};
}
Range root(Range a) {
  return {std::sqrt(a.value), std::sqrt(a.low), std::sqrt(a.high)};
}

/// Area asked over the usual area: all lengths of a like piece go with its root.
Figure size_ratio(const library::UsualPiece& usual, const Figure& area) {
  const Range a = area.range_si();
  const double u = usual.area.si();
  return Figure::derived("size against the usual piece", root({a.value / u, a.low / u, a.high / u}),
                         units::one(), "root of the area over the usual area: a piece of the same shape",
                         {area, usual.area});
}

Figure scaled(const Figure& length, const Figure& ratio) {
  return Figure::derived(length.name(), times(length.range_si(), ratio.range_si()), length.unit(),
                         "usual length times the size ratio", {length, ratio});
}

/// Material met by the line y = `y_mm`, holes left out, mm.
double material_at(const outline::Polygon& shape, double y_mm) {
  std::vector<double> crossings;
  const auto add = [&](const outline::Ring& ring) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const outline::Point& a = ring[i];
      const outline::Point& b = ring[(i + 1) % ring.size()];
      if ((a.y_mm <= y_mm) == (b.y_mm <= y_mm)) continue;
      crossings.push_back(a.x_mm + (y_mm - a.y_mm) / (b.y_mm - a.y_mm) * (b.x_mm - a.x_mm));
    }
  };
  add(shape.outer());
  for (const outline::Ring& hole : shape.holes()) add(hole);
  std::sort(crossings.begin(), crossings.end());
  double sum = 0.0;
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) sum += crossings[i + 1] - crossings[i];
  return sum;
}

/// The narrowest strip of the outline over the range of places where it may bend.
Figure cover_of(const outline::Outline& outline, const library::UsualPiece& usual) {
  constexpr int steps = 8;
  const outline::Box& box = outline.shape.box();
  const auto width_m = [&](double share) {
    return material_at(outline.shape, box.high.y_mm - share * box.height_mm()) / mm_per_m;
  };
  Range range = Range::exactly(width_m(usual.bends_at.si()));
  for (int i = 0; i <= steps; ++i) {
    const double along = static_cast<double>(i) / steps;
    const double width =
        width_m(usual.bends_at.low_si() + along * (usual.bends_at.high_si() - usual.bends_at.low_si()));
    range.low = std::min(range.low, width);
    range.high = std::max(range.high, width);
  }
  if (range.low <= 0.0)
    throw Failure({Trouble::data,
                   {},
                   fmt::format("outline {} has no material where the piece would bend", outline.name),
                   "the distal end must lie at the top (+y) of the outline"});
  return Figure::derived("covering width", range, units::millimetre(),
                         "material of the outline across the place where it bends",
                         {outline.area, usual.bends_at});
}

Figure length_between(const char* name, const Figure& length, const Range& share,
                      std::vector<Figure> rests_on) {
  return Figure::derived(name, times(length.range_si(), share), units::millimetre(),
                         "share of the length of the piece", std::move(rests_on));
}

std::vector<Extent> extents_of(const outline::Polygon& shape) {
  std::vector<Extent> extents;
  for (int angle = 0; angle < angles_tried; ++angle) {
    const double turn = std::numbers::pi * angle / angles_tried;
    double low_x = std::numeric_limits<double>::infinity();
    double low_y = low_x;
    double high_x = -low_x;
    double high_y = -low_x;
    for (const outline::Point& p : shape.outer()) {
      const double x = p.x_mm * std::cos(turn) - p.y_mm * std::sin(turn);
      const double y = p.x_mm * std::sin(turn) + p.y_mm * std::cos(turn);
      low_x = std::min(low_x, x);
      high_x = std::max(high_x, x);
      low_y = std::min(low_y, y);
      high_y = std::max(high_y, y);
    }
    extents.push_back({(high_x - low_x) / mm_per_m, (high_y - low_y) / mm_per_m});
  }
  return extents;
}

std::vector<Extent> rectangle_extents(double length_m, double area_m2) {
  const double across = area_m2 / (box_fill * length_m);
  return {{length_m, across}, {across, length_m}};
}

struct Size {
  Figure area;
  Figure perimeter;
  Figure length;
  Figure girth;
};

Size size_of(const library::UsualPiece& usual, const PieceRequest& request) {
  if (request.outline) {
    const outline::Outline& o = *request.outline;
    return {o.area, o.perimeter, o.height, request.girth.value_or(usual.girth)};
  }
  if (!request.area) return {usual.area, usual.perimeter, usual.length, request.girth.value_or(usual.girth)};
  const Figure ratio = size_ratio(usual, *request.area);
  return {*request.area, scaled(usual.perimeter, ratio), scaled(usual.length, ratio),
          request.girth ? *request.girth : scaled(usual.girth, ratio)};
}

}  // namespace

int Piece::count_on(double length_m, double width_m, double spacing_m, double margin_m) const {
  const auto fit = [&](double sheet_m, double piece_m) {
    return std::max(0, static_cast<int>((sheet_m - 2.0 * margin_m + spacing_m) / (piece_m + spacing_m)));
  };
  int most = 0;
  for (const Extent& extent : extents)
    most = std::max(most, fit(length_m, extent.along_m) * fit(width_m, extent.across_m));
  return most;
}

Piece piece_for(const library::UsualPiece& usual, const PieceRequest& request) {
  const Size size = size_of(usual, request);
  const Range bends = usual.bends_at.range_si();
  Figure cover = request.outline
                     ? cover_of(*request.outline, usual)
                     : Figure::derived("covering width", times(size.girth.range_si(), usual.wrap.range_si()),
                                       units::millimetre(), "share of the girth that is covered",
                                       {size.girth, usual.wrap});
  return {.area = size.area,
          .perimeter = size.perimeter,
          .girth = size.girth,
          .cover = std::move(cover),
          .lever = length_between("lever", size.length, minus(bends, usual.pushed_at.range_si()),
                                  {size.length, usual.bends_at, usual.pushed_at}),
          .span = length_between("span", size.length, minus(Range::exactly(1.0), bends),
                                 {size.length, usual.bends_at}),
          .force = request.force.value_or(usual.force),
          .form_time = request.form_time.value_or(usual.form_time),
          .palm_width = usual.palm_width,
          .palm_rise = usual.palm_rise,
          .closed = usual.closed,
          .lasting = usual.lasting,
          .extents = request.outline ? extents_of(request.outline->shape)
                                     : rectangle_extents(size.length.si(), size.area.si())};
}

}  // namespace warmsheet::choice
