// SPDX-License-Identifier: MIT
// The corners come from straight lines fitted to the paper's four sides, so they are found to a fraction of a
// pixel even where they are worn. Four corners give the plane's projective map (e.g. Hartley and Zisserman,
// Multiple View Geometry, 2nd ed., 2.3 and 4.1); a lens that bends straight lines is not corrected, only
// noticed.
#include "outline/photo.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

#include "outline/contour.h"

namespace warmsheet::outline {
namespace {

/// Paper that fills less of the picture gives too few pixels.
constexpr double least_share = 0.08;
/// Sides that differ more from each other are seen too much from one side.
constexpr double largest_taper = 1.6;
/// Long over short side as they appear; between them it is plain which is which.
constexpr double least_ratio = 1.12;
constexpr double largest_ratio = 1.75;
/// Largest scatter of a side about its straight line, over its length: a bent sheet or a bending lens.
constexpr double largest_bow = 0.004;
/// What is left off at the rim of the paper, so that no ground shows there.
constexpr double rim_mm = 3.0;
constexpr double pixels_per_mm = 6.0;

[[noreturn]] void refuse(const std::string& file, std::string message, std::string hint) {
  throw Failure(Problem{Trouble::data, {file, 0, 0}, std::move(message), std::move(hint)});
}

constexpr const char* how_to =
    "lay the sheet flat and whole on a dark ground, and take the picture from straight above";

double distance(const Point& a, const Point& b) {
  return std::hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm);
}

/// Twice the signed area of a triangle.
double turn(const Point& a, const Point& b, const Point& c) {
  return (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm);
}

/// The edge of the largest light piece.
Ring paper_edge(const GreyImage& photo, const std::string& file) {
  const GreyImage clean = without_specks(photo);
  constexpr double black = 0.0;
  Ring largest;
  for (Ring& line : level_lines(clean, parting_level(clean), black))
    if (signed_area_mm2(line) > signed_area_mm2(largest)) largest = std::move(line);
  const auto width = static_cast<double>(photo.width);
  const auto height = static_cast<double>(photo.height);
  if (largest.size() < 4 || signed_area_mm2(largest) < least_share * width * height)
    refuse(file, "no sheet of paper is found in the photo", how_to);
  const Box box = box_of(largest);
  constexpr double edge = 2.0;
  if (box.low.x_mm < edge || box.low.y_mm < edge || box.high.x_mm > width - 1.0 - edge ||
      box.high.y_mm > height - 1.0 - edge)
    refuse(file, "the sheet runs off the photo, or its ground is as light as the paper", how_to);
  return largest;
}

std::size_t farthest(const Ring& ring, const std::function<double(const Point&)>& how_far) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < ring.size(); ++i)
    if (how_far(ring[i]) > how_far(ring[best])) best = i;
  return best;
}

/// Indices of the four corners in the ring's order: two ends of a diagonal, and the points farthest from it.
std::array<std::size_t, 4> rough_corners(const Ring& ring) {
  const std::size_t a = farthest(ring, [&](const Point& p) { return distance(p, ring.front()); });
  const std::size_t c = farthest(ring, [&](const Point& p) { return distance(p, ring[a]); });
  const std::size_t b = farthest(ring, [&](const Point& p) { return turn(ring[a], ring[c], p); });
  const std::size_t d = farthest(ring, [&](const Point& p) { return -turn(ring[a], ring[c], p); });
  std::array<std::size_t, 4> corners{a, b, c, d};
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
  if (count < 32) refuse(file, "no sheet with four sides is found in the photo", how_to);
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
    refuse(file, "a side of the sheet is not straight in the photo",
           "lay the sheet flat, with nothing over its sides, and step back: near lenses bend lines");
  return {mean, along};
}

Point meeting(const StraightLine& a, const StraightLine& b, const std::string& file) {
  const double cross = a.along.x_mm * b.along.y_mm - a.along.y_mm * b.along.x_mm;
  constexpr double least_sine = 0.3;
  if (std::abs(cross) < least_sine) refuse(file, "no sheet with four sides is found in the photo", how_to);
  const double t = ((b.at.x_mm - a.at.x_mm) * b.along.y_mm - (b.at.y_mm - a.at.y_mm) * b.along.x_mm) / cross;
  return {a.at.x_mm + t * a.along.x_mm, a.at.y_mm + t * a.along.y_mm};
}

/// The projective map from paper, mm, to the photo, pixels: x = (h0 u + h1 v + h2) / (h6 u + h7 v + 1).
using Homography = std::array<double, 8>;

/// Eight equations for eight numbers, by elimination with the largest pivot.
Homography solved(std::array<std::array<double, 9>, 8> rows) {
  for (std::size_t k = 0; k < 8; ++k) {
    std::size_t pivot = k;
    for (std::size_t i = k + 1; i < 8; ++i)
      if (std::abs(rows[i][k]) > std::abs(rows[pivot][k])) pivot = i;
    std::swap(rows[k], rows[pivot]);
    for (std::size_t i = 0; i < 8; ++i) {
      if (i == k) continue;
      const double factor = rows[i][k] / rows[k][k];
      for (std::size_t j = k; j < 9; ++j) rows[i][j] -= factor * rows[k][j];
    }
  }
  Homography h{};
  for (std::size_t k = 0; k < 8; ++k) h[k] = rows[k][8] / rows[k][k];
  return h;
}

Homography homography(const std::array<Point, 4>& paper, const std::array<Point, 4>& photo) {
  std::array<std::array<double, 9>, 8> rows{};
  for (std::size_t i = 0; i < 4; ++i) {
    const double u = paper[i].x_mm;
    const double v = paper[i].y_mm;
    const double x = photo[i].x_mm;
    const double y = photo[i].y_mm;
    rows[2 * i] = {u, v, 1.0, 0.0, 0.0, 0.0, -u * x, -v * x, x};
    rows[2 * i + 1] = {0.0, 0.0, 0.0, u, v, 1.0, -u * y, -v * y, y};
  }
  return solved(rows);
}

Point projected(const Homography& h, const Point& p) {
  const double w = h[6] * p.x_mm + h[7] * p.y_mm + 1.0;
  return {(h[0] * p.x_mm + h[1] * p.y_mm + h[2]) / w, (h[3] * p.x_mm + h[4] * p.y_mm + h[5]) / w};
}

/// Grey level between pixel centres; y points up.
double grey_at(const GreyImage& photo, const Point& p) {
  const double x = std::clamp(p.x_mm, 0.0, static_cast<double>(photo.width - 1) - 1e-9);
  const double y = std::clamp(static_cast<double>(photo.height - 1) - p.y_mm, 0.0,
                              static_cast<double>(photo.height - 1) - 1e-9);
  const auto column = static_cast<std::size_t>(x);
  const auto row = static_cast<std::size_t>(y);
  const double s = x - static_cast<double>(column);
  const double t = y - static_cast<double>(row);
  const auto grey = [&](std::size_t r, std::size_t c) {
    return static_cast<double>(photo.grey[r * photo.width + c]);
  };
  return (1.0 - t) * ((1.0 - s) * grey(row, column) + s * grey(row, column + 1)) +
         t * ((1.0 - s) * grey(row + 1, column) + s * grey(row + 1, column + 1));
}

/// The sheet's corners so that the first side is a long one; says if it is seen too much from the side.
std::array<Point, 4> long_side_first(std::array<Point, 4> corners, const std::string& file) {
  std::array<double, 4> side{};
  for (std::size_t i = 0; i < 4; ++i) side[i] = distance(corners[i], corners[(i + 1) % 4]);
  const double first = 0.5 * (side[0] + side[2]);
  const double second = 0.5 * (side[1] + side[3]);
  const double ratio = std::max(first, second) / std::min(first, second);
  const double taper = std::max(std::max(side[0], side[2]) / std::min(side[0], side[2]),
                                std::max(side[1], side[3]) / std::min(side[1], side[3]));
  if (ratio < least_ratio || ratio > largest_ratio || taper > largest_taper)
    refuse(file, "the sheet is seen too much from the side to tell its long sides", how_to);
  if (first < second) std::rotate(corners.begin(), corners.begin() + 1, corners.end());
  return corners;
}

/// Each pixel of the flat picture is the mean of 2 x 2 points, as a finer photo has more pixels than it.
GreyImage resampled(const GreyImage& photo, const Homography& to_photo, const PaperSize& paper) {
  GreyImage flat;
  flat.width = static_cast<std::size_t>((paper.long_mm - 2.0 * rim_mm) * pixels_per_mm);
  flat.height = static_cast<std::size_t>((paper.short_mm - 2.0 * rim_mm) * pixels_per_mm);
  flat.grey.resize(flat.width * flat.height);
  const auto at = [&](double column, double row) {
    return projected(to_photo,
                     {rim_mm + column / pixels_per_mm, paper.short_mm - rim_mm - row / pixels_per_mm});
  };
  for (std::size_t row = 0; row < flat.height; ++row)
    for (std::size_t column = 0; column < flat.width; ++column) {
      double sum = 0.0;
      for (const double dy : {0.25, 0.75})
        for (const double dx : {0.25, 0.75})
          sum += grey_at(photo, at(static_cast<double>(column) + dx, static_cast<double>(row) + dy));
      flat.grey[row * flat.width + column] = static_cast<std::uint8_t>(std::lround(0.25 * sum));
    }
  return flat;
}

/// Mean grey of a narrow stretch of the rim of the flat picture around (column, row).
double rim_grey(const GreyImage& flat, std::size_t column, std::size_t row) {
  constexpr std::size_t reach = 12;
  double sum = 0.0;
  double count = 0.0;
  for (std::size_t r = row > reach ? row - reach : 0; r < std::min(flat.height, row + reach); ++r)
    for (std::size_t c = column > reach ? column - reach : 0; c < std::min(flat.width, column + reach); ++c) {
      sum += flat.grey[r * flat.width + c];
      count += 1.0;
    }
  return sum / count;
}

/// A lamp to one side leaves the paper brighter there; its four corners say how much, and the picture is
/// evened out between them.
void even_out(GreyImage& flat) {
  constexpr double white = 235.0;
  const double corners[2][2] = {
      {rim_grey(flat, 0, 0), rim_grey(flat, flat.width - 1, 0)},
      {rim_grey(flat, 0, flat.height - 1), rim_grey(flat, flat.width - 1, flat.height - 1)}};
  for (std::size_t row = 0; row < flat.height; ++row)
    for (std::size_t column = 0; column < flat.width; ++column) {
      const double s = static_cast<double>(column) / static_cast<double>(flat.width - 1);
      const double t = static_cast<double>(row) / static_cast<double>(flat.height - 1);
      const double paper = (1.0 - t) * ((1.0 - s) * corners[0][0] + s * corners[0][1]) +
                           t * ((1.0 - s) * corners[1][0] + s * corners[1][1]);
      std::uint8_t& grey = flat.grey[row * flat.width + column];
      grey = static_cast<std::uint8_t>(std::min(255.0, std::round(grey * white / std::max(1.0, paper))));
    }
}

}  // namespace

std::array<Point, 4> sheet_corners(const GreyImage& photo, const std::string& file) {
  const Ring edge = paper_edge(photo, file);
  const std::array<std::size_t, 4> rough = rough_corners(edge);
  std::array<StraightLine, 4> sides;
  for (std::size_t i = 0; i < 4; ++i) sides[i] = fitted_side(edge, rough[i], rough[(i + 1) % 4], file);
  std::array<Point, 4> corners;
  for (std::size_t i = 0; i < 4; ++i) corners[i] = meeting(sides[(i + 3) % 4], sides[i], file);
  return corners;
}

FlatPhoto flattened(const GreyImage& photo, const PaperSize& paper, const std::string& file) {
  constexpr std::size_t fewest = 200;
  if (photo.width < fewest || photo.height < fewest)
    refuse(file, "the photo has too few pixels", "take it with at least 1000 pixels along the sheet");
  const std::array<Point, 4> corners = long_side_first(sheet_corners(photo, file), file);
  const Homography to_photo = homography(
      {Point{0.0, 0.0}, {paper.long_mm, 0.0}, {paper.long_mm, paper.short_mm}, {0.0, paper.short_mm}},
      corners);
  FlatPhoto flat{resampled(photo, to_photo, paper), Length{1e-3 / pixels_per_mm}};
  even_out(flat.image);
  return flat;
}

}  // namespace warmsheet::outline
