// SPDX-License-Identifier: MIT
#include "choice/piece.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>

#include "base/dimension.h"
#include "choice/plate.h"
#include "choice/profile.h"
#include "choice/trough.h"

namespace warmsheet::choice {
namespace {

// Where only the area is known: outlines fill about three quarters of the rectangle around them.
constexpr double box_fill = 0.75;
constexpr int angles_tried = 180;
// Widths are compared in a sheet of middling thickness: sections of thin sheet keep their proportions in any.
constexpr double sheet_m = 2.4e-3;

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
  return Figure::derived(length.name(), length.range_si().times(ratio.range_si()), length.unit(),
                         "usual length times the size ratio", {length, ratio});
}

/// What a strip comes to in the middle of what is known, and at both ends of it.
struct Strips {
  Strip middle;
  Strip low;
  Strip high;

  [[nodiscard]] Range range(double Strip::*member) const {
    const double a = low.*member;
    const double b = middle.*member;
    const double c = high.*member;
    return {b, std::min({a, b, c}), std::max({a, b, c})};
  }
};

template <class StripAt>
Strips strips_over(const Range& range, StripAt strip_at) {
  return {strip_at(range.value), strip_at(range.low), strip_at(range.high)};
}

double radius_of(double girth_m) {
  return girth_m / (2.0 * std::numbers::pi);
}

/// The trough of an outline, from where it bends to the proximal end.
Figure cover_of(const outline::Outline& outline, const library::UsualPiece& usual, const Figure& girth) {
  const double widest = usual.wrap.high_si() * girth.si();
  const auto second_moment = [&](double width) {
    return arc_section(radius_of(girth.si()), width, sheet_m).second_moment_m4;
  };
  const Strips strips = strips_over(usual.bends_at.range_si(), [&](double bends_at) {
    Strip strip = equivalent_strip(widths_of(outline.shape), {1.0, bends_at, widest, widest},
                                   [&](double width, double) { return second_moment(width); });
    strip.width_m = argument_for(strip.second_moment_m4, widest, second_moment);
    return strip;
  });
  return Figure::derived(
      "covering width", strips.range(&Strip::width_m), units::millimetre(),
      "uniform width of trough that gives as much as the outline's own from the place where it bends on",
      {outline.area, usual.bends_at, usual.wrap, girth});
}

struct Palm {
  Finding width;
  Finding rise;
};

/// The palmar piece, from the push to the bend: its curve goes over from the arch of the palm to that of the
/// limb.
class PalmMaker {
 public:
  PalmMaker(const library::UsualPiece& usual, const Figure& girth)
      : usual_(usual),
        girth_(girth),
        width_(usual.palm_width.figure()),
        rise_(usual.palm_rise.figure()),
        widest_at_bend_m_(usual.wrap.high_si() * girth.si()) {}

  /// Of an outline's own widths; where it bends is not known better than `bends_at`.
  [[nodiscard]] Palm drawn(const outline::Outline& outline) const {
    return made(
        strips_over(usual_.bends_at.range_si(),
                    [&](double bends_at) { return strip(widths_of(outline.shape), bends_at, rise_.si()); }),
        {outline.area, usual_.bends_at, usual_.pushed_at, girth_, width_, rise_});
  }

  /// As wide all along as `width`; its rise is not known better than the usual one.
  [[nodiscard]] Palm even(const Figure& width) const {
    const Strips strips = strips_over(rise_.range_si(), [&](double rise_m) {
      return strip([&](double) { return width.si(); }, usual_.bends_at.si(), rise_m);
    });
    return {width, made(strips, {width, rise_, girth_}).rise};
  }

 private:
  [[nodiscard]] Strip strip(const WidthAt& width_at, double bends_at, double rise_m) const {
    const double palm_curve = arch_curve(width_.si(), rise_m);
    const double limb_curve = 1.0 / radius_of(girth_.si());
    return equivalent_strip(width_at, {usual_.pushed_at.si(), bends_at, width_.high_si(), widest_at_bend_m_},
                            [&](double width_m, double moment) {
                              const double curve = std::lerp(palm_curve, limb_curve, moment);
                              return arc_section(1.0 / curve, width_m, sheet_m).second_moment_m4;
                            });
  }

  [[nodiscard]] static Palm made(const Strips& strips, const std::vector<Figure>& behind) {
    const Range width = strips.range(&Strip::width_m);
    const Range moment = strips.range(&Strip::second_moment_m4);
    const auto rise_for = [&](double second_moment_m4) {
      return argument_for(second_moment_m4, width.value, [&](double rise_m) {
        return arched_section(width.value, rise_m, sheet_m).second_moment_m4;
      });
    };
    return {Figure::derived("palm width", width, units::millimetre(),
                            "mean width from the push to the place where it bends", behind),
            Figure::derived(
                "palm rise", {rise_for(moment.value), rise_for(moment.low), rise_for(moment.high)},
                units::millimetre(),
                "even arch that gives as much as one whose curve goes over from the palm's to the limb's",
                behind)};
  }

  const library::UsualPiece& usual_;
  const Figure& girth_;
  const Figure& width_;
  const Figure& rise_;
  double widest_at_bend_m_;
};

Figure length_between(const char* name, const Figure& length, const Range& share,
                      std::vector<Figure> rests_on) {
  return Figure::derived(name, length.range_si().times(share), units::millimetre(),
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
  Finding palm_width;
};

Finding scaled(const Finding& length, const Figure& ratio) {
  return length.known() ? Finding(scaled(length.figure(), ratio)) : length;
}

Size size_of(const library::UsualPiece& usual, const PieceRequest& request) {
  const Figure girth = request.girth.value_or(usual.girth);
  if (request.outline) {
    const outline::Outline& o = *request.outline;
    return {o.area, o.perimeter, o.height, girth, usual.palm_width};
  }
  if (!request.area) return {usual.area, usual.perimeter, usual.length, girth, usual.palm_width};
  const Figure ratio = size_ratio(usual, *request.area);
  return {*request.area, scaled(usual.perimeter, ratio), scaled(usual.length, ratio),
          request.girth ? girth : scaled(usual.girth, ratio), scaled(usual.palm_width, ratio)};
}

/// The outline whose widths are those of the section, if there is one.
const outline::Outline* section_outline(const library::UsualPiece& usual, const PieceRequest& request) {
  return request.outline && !usual.folds ? &*request.outline : nullptr;
}

Palm palm_for(const library::UsualPiece& usual, const PieceRequest& request, const Size& size) {
  if (!size.palm_width.known()) return {usual.palm_width, usual.palm_rise};
  const PalmMaker maker(usual, size.girth);
  const outline::Outline* drawn = section_outline(usual, request);
  return drawn ? maker.drawn(*drawn) : maker.even(size.palm_width.figure());
}

Figure cover_for(const library::UsualPiece& usual, const PieceRequest& request, const Size& size) {
  if (const outline::Outline* drawn = section_outline(usual, request))
    return cover_of(*drawn, usual, size.girth);
  return Figure::derived("covering width", size.girth.range_si().times(usual.wrap.range_si()),
                         units::millimetre(), "share of the girth that is covered", {size.girth, usual.wrap});
}

}  // namespace

int Piece::count_on(double length_m, double width_m, double spacing_m, double margin_m) const {
  const auto fit = [&](double side_m, double piece_m) {
    return std::max(0, static_cast<int>((side_m - 2.0 * margin_m + spacing_m) / (piece_m + spacing_m)));
  };
  int most = 0;
  for (const Extent& extent : extents)
    most = std::max(most, fit(length_m, extent.along_m) * fit(width_m, extent.across_m));
  return most;
}

Piece piece_for(const library::UsualPiece& usual, const PieceRequest& request) {
  const Size size = size_of(usual, request);
  const Range bends = usual.bends_at.range_si();
  Palm palm = palm_for(usual, request, size);
  return {.area = size.area,
          .perimeter = size.perimeter,
          .girth = size.girth,
          .cover = cover_for(usual, request, size),
          .lever = length_between("lever", size.length, minus(bends, usual.pushed_at.range_si()),
                                  {size.length, usual.bends_at, usual.pushed_at}),
          .span = length_between("span", size.length, minus(Range::exactly(1.0), bends),
                                 {size.length, usual.bends_at}),
          .force = request.force.value_or(usual.force),
          .form_time = request.form_time.value_or(usual.form_time),
          .palm_width = std::move(palm.width),
          .palm_rise = std::move(palm.rise),
          .closed = usual.closed,
          .lasting = usual.lasting,
          .traced = request.outline && !request.outline->design,
          .extents = request.outline ? extents_of(request.outline->shape)
                                     : rectangle_extents(size.length.si(), size.area.si())};
}

}  // namespace warmsheet::choice
