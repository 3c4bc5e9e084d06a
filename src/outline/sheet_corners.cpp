// SPDX-License-Identifier: MIT
// The corners come from straight lines fitted to the paper's four sides, so they are found to a fraction of a
// pixel even where they are worn. A lens that bends straight lines is not corrected, only noticed.
#include "outline/sheet_corners.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "outline/contour.h"
#include "outline/refuse.h"

namespace warmsheet::outline {
namespace {

/// Paper that fills less of the picture gives too few pixels.
constexpr double least_share = 0.08;
/// Largest scatter of a side about its straight line, over its length: a bent sheet or a bending lens.
constexpr double largest_bow = 0.004;
constexpr const char* no_sheet = "no sheet with four straight sides is found in the photo";
constexpr const char* how_to =
    "lay the sheet flat and whole on a dark ground, evenly lit, and take the picture from straight above";

double distance(const Point& a, const Point& b) {
  return std::hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm);
}

/// Twice the signed area of a triangle.
double turn(const Point& a, const Point& b, const Point& c) {
  return (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm);
}

/// A sheet that touches the picture's border is cut off there; light that touches all of it is no sheet.
void check_inside(const Box& box, const GreyImage& photo, const std::string& file) {
  constexpr double edge = 2.0;
  const int touched = int{box.low.x_mm < edge} + int{box.low.y_mm < edge} +
                      int{box.high.x_mm > static_cast<double>(photo.width) - 1.0 - edge} +
                      int{box.high.y_mm > static_cast<double>(photo.height) - 1.0 - edge};
  if (touched == 4)
    refuse({file, 0, 0},
           "no edge of the sheet is seen: its ground is as light as the paper, or the sheet fills the photo",
           how_to);
  if (touched > 0)
    refuse({file, 0, 0}, "the sheet runs off the photo, or something as light as the paper lies beside it",
           how_to);
}

/// The edge of the largest light piece.
Ring paper_edge(const GreyImage& photo, double level, const std::string& file) {
  constexpr double black = 0.0;
  Ring largest;
  for (Ring& line : level_lines(photo, level, black))
    if (signed_area_mm2(line) > signed_area_mm2(largest)) largest = std::move(line);
  if (largest.size() < 4 ||
      signed_area_mm2(largest) < least_share * static_cast<double>(photo.width * photo.height))
    refuse({file, 0, 0}, "no sheet of paper is found in the photo, or it is too small there", how_to);
  check_inside(box_of(largest), photo, file);
  return largest;
}

struct Quadrilateral {
  double area = 0.0;
  std::array<std::size_t, 4> at{};
};

/// The largest four-sided figure on the ring's points: every diagonal with the farthest point on each side.
Quadrilateral largest_quadrilateral(const Ring& ring) {
  Quadrilateral best;
  for (std::size_t a = 0; a < ring.size(); ++a)
    for (std::size_t c = a + 1; c < ring.size(); ++c) {
      std::size_t b = a;
      std::size_t d = a;
      double right = 0.0;
      double left = 0.0;
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const double away = turn(ring[a], ring[c], ring[i]);
        if (away < right) right = away, b = i;
        if (away > left) left = away, d = i;
      }
      if (left - right > best.area) best = {left - right, {a, b, c, d}};
    }
  std::sort(best.at.begin(), best.at.end());
  return best;
}

/// Indices of the four corners in the ring's order. Its many points are thinned first; those that stay are
/// its own.
std::array<std::size_t, 4> rough_corners(const Ring& ring, const std::string& file) {
  constexpr double thinning = 0.005;  // of the side
  constexpr std::size_t most = 300;
  const Ring thin = simplified(ring, thinning * std::sqrt(signed_area_mm2(ring)));
  if (thin.size() < 4 || thin.size() > most) refuse({file, 0, 0}, no_sheet, how_to);
  std::array<std::size_t, 4> corners = largest_quadrilateral(thin).at;
  for (std::size_t& corner : corners) {
    const auto same = [&](const Point& p) { return distance(p, thin[corner]) == 0.0; };
    corner = static_cast<std::size_t>(std::find_if(ring.begin(), ring.end(), same) - ring.begin());
  }
  std::sort(corners.begin(), corners.end());
  return corners;
}

/// A straight line through a point in a direction.
struct StraightLine {
  Point at;
  Point along;
};

/// Least squares across the line, over the middle of one side: corners may be round or folded.
StraightLine fitted_side(const Ring& ring, std::size_t from, std::size_t to, const std::string& file) {
  const std::size_t count = (to + ring.size() - from) % ring.size();
  const std::size_t skip = count / 8;
  if (count < 32) refuse({file, 0, 0}, no_sheet, how_to);
  double n = 0.0;
  Point mean;
  for (std::size_t i = skip; i + skip < count; ++i, n += 1.0) {
    const Point& p = ring[(from + i) % ring.size()];
    mean.x_mm += p.x_mm;
    mean.y_mm += p.y_mm;
  }
  mean = {mean.x_mm / n, mean.y_mm / n};
  double xx = 0.0;
  double xy = 0.0;
  double yy = 0.0;
  for (std::size_t i = skip; i + skip < count; ++i) {
    const Point& p = ring[(from + i) % ring.size()];
    xx += (p.x_mm - mean.x_mm) * (p.x_mm - mean.x_mm);
    xy += (p.x_mm - mean.x_mm) * (p.y_mm - mean.y_mm);
    yy += (p.y_mm - mean.y_mm) * (p.y_mm - mean.y_mm);
  }
  const double angle = 0.5 * std::atan2(2.0 * xy, xx - yy);
  const Point along{std::cos(angle), std::sin(angle)};
  const double across =
      xx * along.y_mm * along.y_mm - 2.0 * xy * along.x_mm * along.y_mm + yy * along.x_mm * along.x_mm;
  const double scatter = std::sqrt(std::max(0.0, across) / n);
  if (scatter > largest_bow * distance(ring[from], ring[to]) + 1.0)
    refuse({file, 0, 0}, "a side of the sheet is not straight in the photo",
           "lay the sheet flat, with nothing over its sides and no shadow across them, and step back: near "
           "lenses bend lines");
  return {mean, along};
}

Point meeting(const StraightLine& a, const StraightLine& b, const std::string& file) {
  const double cross = a.along.x_mm * b.along.y_mm - a.along.y_mm * b.along.x_mm;
  constexpr double least_sine = 0.3;
  if (std::abs(cross) < least_sine) refuse({file, 0, 0}, no_sheet, how_to);
  const double t = ((b.at.x_mm - a.at.x_mm) * b.along.y_mm - (b.at.y_mm - a.at.y_mm) * b.along.x_mm) / cross;
  return {a.at.x_mm + t * a.along.x_mm, a.at.y_mm + t * a.along.y_mm};
}

}  // namespace

Corners sheet_corners(const GreyImage& photo, double level, const std::string& file) {
  const Ring edge = paper_edge(photo, level, file);
  const std::array<std::size_t, 4> rough = rough_corners(edge, file);
  std::array<StraightLine, 4> sides;
  for (std::size_t i = 0; i < 4; ++i) sides[i] = fitted_side(edge, rough[i], rough[(i + 1) % 4], file);
  Corners corners;
  for (std::size_t i = 0; i < 4; ++i) corners[i] = meeting(sides[(i + 3) % 4], sides[i], file);
  return corners;
}

}  // namespace warmsheet::outline
