// SPDX-License-Identifier: MIT
// Marching squares: between four neighbouring pixel centres the level is crossed on two or four sides;
// crossings are interpolated along the side, so a blurred edge is found to a fraction of a pixel. Four
// crossings (a saddle) are joined so that the higher corners stay apart.
#include "outline/contour.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <unordered_map>
#include <utility>

namespace warmsheet::outline {
namespace {

/// Side of a cell, by the two pixel centres it joins: unique over the whole image.
using Side = std::size_t;

class LevelLines {
 public:
  LevelLines(const GreyImage& image, double level, double outside)
      : image_(image), level_(level), outside_(outside), columns_(image.width + 2), rows_(image.height + 2) {}

  std::vector<Ring> trace() {
    for (std::size_t row = 0; row + 1 < rows_; ++row)
      for (std::size_t column = 0; column + 1 < columns_; ++column) cross(column, row);
    std::vector<Ring> rings;
    for (const Side start : starts_)
      if (next_.contains(start)) rings.push_back(follow(start));
    return rings;
  }

 private:
  /// Grey level of a pixel of the image with a border of one pixel around it.
  [[nodiscard]] double at(std::size_t column, std::size_t row) const {
    if (column == 0 || row == 0 || column > image_.width || row > image_.height) return outside_;
    return image_.grey[(row - 1) * image_.width + column - 1];
  }
  [[nodiscard]] Side across(std::size_t column, std::size_t row) const {
    return 2 * (row * columns_ + column);
  }
  [[nodiscard]] Side down(std::size_t column, std::size_t row) const { return across(column, row) + 1; }

  /// Directed pieces of line through one cell, higher side on the left with y up.
  void cross(std::size_t column, std::size_t row) {
    const double corner[4] = {at(column, row), at(column + 1, row), at(column + 1, row + 1),
                              at(column, row + 1)};
    const Side sides[4] = {across(column, row), down(column + 1, row), across(column, row + 1),
                           down(column, row)};
    unsigned high = 0;
    for (unsigned i = 0; i < 4; ++i)
      if (corner[i] > level_) high |= 1U << i;
    if (high == 0 || high == 15) return;
    // Walking round the cell clockwise as seen (rows downward), a line enters where low turns to high.
    for (unsigned i = 0; i < 4; ++i) {
      const bool here = (high >> i & 1U) != 0;
      const bool there = (high >> ((i + 1) % 4) & 1U) != 0;
      if (here || !there) continue;
      unsigned k = i;  // the run of high corners that begins here ends at the next fall
      do k = (k + 1) % 4;
      while ((high >> ((k + 1) % 4) & 1U) != 0);
      join(sides[i], sides[k]);
    }
  }

  void join(Side from, Side to) {
    if (starts_.size() == most_crossings)
      throw Failure(Problem{Trouble::data,
                            {},
                            "the scan is too noisy: edges everywhere",
                            "scan it again with less sharpening, or clean the glass"});
    next_[from] = to;
    starts_.push_back(from);
  }

  [[nodiscard]] Point crossing(Side side) const {
    const std::size_t cell = side / 2;
    const std::size_t column = cell % columns_;
    const std::size_t row = cell / columns_;
    const bool downward = side % 2 != 0;
    const double a = at(column, row);
    const double b = downward ? at(column, row + 1) : at(column + 1, row);
    const double t = (level_ - a) / (b - a);
    const double x = static_cast<double>(column) - 1.0 + (downward ? 0.0 : t);
    const double y = static_cast<double>(row) - 1.0 + (downward ? t : 0.0);
    return {x, static_cast<double>(image_.height) - 1.0 - y};
  }

  Ring follow(Side start) {
    Ring ring;
    for (Side side = start; next_.contains(side);) {
      ring.push_back(crossing(side));
      const auto step = next_.find(side);
      side = step->second;
      next_.erase(step);
    }
    return ring;
  }

  const GreyImage& image_;
  double level_;
  double outside_;
  std::size_t columns_;
  std::size_t rows_;
  std::unordered_map<Side, Side> next_;
  std::vector<Side> starts_;  // in reading order, so that the result does not depend on a hash
};

double distance_to_segment(const Point& p, const Point& a, const Point& b) {
  const double dx = b.x_mm - a.x_mm;
  const double dy = b.y_mm - a.y_mm;
  const double squared = dx * dx + dy * dy;
  const double t = squared == 0.0
                       ? 0.0
                       : std::clamp(((p.x_mm - a.x_mm) * dx + (p.y_mm - a.y_mm) * dy) / squared, 0.0, 1.0);
  return std::hypot(p.x_mm - a.x_mm - t * dx, p.y_mm - a.y_mm - t * dy);
}

}  // namespace

double parting_level(const GreyImage& image, double low, double high) {
  std::array<double, 256> count{};
  double sum = 0.0;
  double all = 0.0;
  for (const std::uint8_t grey : image.grey) {
    if (grey <= low || grey > high) continue;
    ++count[grey];
    sum += grey;
    ++all;
  }
  double below = 0.0;
  double below_sum = 0.0;
  double best = -1.0;
  double first = 0.0;
  double last = 0.0;
  for (std::size_t level = 0; level + 1 < count.size(); ++level) {
    below += count[level];
    below_sum += static_cast<double>(level) * count[level];
    if (below == 0.0 || below == all) continue;
    const double apart = below_sum / below - (sum - below_sum) / (all - below);
    const double between = below * (all - below) * apart * apart;
    if (between > best) {
      best = between;
      first = static_cast<double>(level);
    }
    if (between >= best) last = static_cast<double>(level);  // a gap between the classes: take its middle
  }
  return 0.5 * (first + last) + 0.5;
}

GreyImage without_specks(const GreyImage& image) {
  GreyImage made = image;
  for (std::size_t row = 1; row + 1 < image.height; ++row)
    for (std::size_t column = 1; column + 1 < image.width; ++column) {
      std::array<std::uint8_t, 9> near{};
      for (std::size_t i = 0; i < 9; ++i)
        near[i] = image.grey[(row + i / 3 - 1) * image.width + column + i % 3 - 1];
      std::nth_element(near.begin(), near.begin() + 4, near.end());
      made.grey[row * image.width + column] = near[4];
    }
  return made;
}

std::vector<Ring> level_lines(const GreyImage& image, double level, double outside) {
  return LevelLines(image, level, outside).trace();
}

Ring simplified(const Ring& ring, double tolerance) {
  if (ring.size() < 4) return ring;
  // Two corners far apart are kept, and each half is thinned between them.
  std::size_t far = 0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const auto from_start = [&](std::size_t k) {
      return std::hypot(ring[k].x_mm - ring[0].x_mm, ring[k].y_mm - ring[0].y_mm);
    };
    if (from_start(i) > from_start(far)) far = i;
  }
  std::vector<bool> kept(ring.size() + 1, false);
  kept[0] = kept[far] = true;
  std::vector<std::pair<std::size_t, std::size_t>> open{{0, far}, {far, ring.size()}};
  while (!open.empty()) {
    const auto [from, to] = open.back();
    open.pop_back();
    std::size_t worst = from;
    double most = tolerance;
    for (std::size_t i = from + 1; i < to; ++i) {
      const double away = distance_to_segment(ring[i], ring[from], ring[to % ring.size()]);
      if (away > most) {
        most = away;
        worst = i;
      }
    }
    if (worst == from) continue;
    kept[worst] = true;
    open.emplace_back(from, worst);
    open.emplace_back(worst, to);
  }
  Ring made;
  for (std::size_t i = 0; i < ring.size(); ++i)
    if (kept[i]) made.push_back(ring[i]);
  return made;
}

}  // namespace warmsheet::outline
