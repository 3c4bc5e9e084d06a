// SPDX-License-Identifier: MIT
// Ends are looked up in a grid of cells as wide as the reach, so a file of 10^5 single lines is joined in
// linear time.
#include "outline/chain.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <optional>
#include <utility>

#include "outline/refuse.h"

namespace warmsheet::outline {
namespace {

double distance_mm(const Point& a, const Point& b) {
  return std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm);
}

class Joiner {
 public:
  Joiner(std::vector<PlacedStroke> strokes, double reach_mm)
      : strokes_(std::move(strokes)), reach_mm_(reach_mm) {
    used_.resize(strokes_.size(), false);
    for (std::size_t i = 0; i < strokes_.size(); ++i) {
      used_[i] = is_dot(strokes_[i].stroke);
      if (used_[i] || is_ring(strokes_[i].stroke)) continue;
      for (const bool last : {false, true}) cells_[cell(end_point({i, last}))].push_back({i, last});
    }
  }

  std::vector<PlacedRing> join() {
    for (std::size_t i = 0; i < strokes_.size(); ++i) {
      if (used_[i]) continue;
      if (is_ring(strokes_[i].stroke))
        rings_.push_back({strokes_[i].stroke.points, strokes_[i].place, strokes_[i].name});
      else
        follow(i);
    }
    return std::move(rings_);
  }

 private:
  struct End {
    std::size_t stroke;
    bool last;
  };
  using Cell = std::pair<std::int64_t, std::int64_t>;

  [[nodiscard]] bool is_ring(const Stroke& stroke) const {
    return stroke.closed || (stroke.points.size() > 2 &&
                             distance_mm(stroke.points.front(), stroke.points.back()) <= reach_mm_);
  }
  /// Drawing programs leave lines without length behind; they join nothing.
  [[nodiscard]] bool is_dot(const Stroke& stroke) const {
    return std::all_of(stroke.points.begin(), stroke.points.end(),
                       [&](const Point& p) { return distance_mm(p, stroke.points.front()) <= reach_mm_; });
  }
  [[nodiscard]] const Point& end_point(const End& end) const {
    const Ring& points = strokes_[end.stroke].stroke.points;
    return end.last ? points.back() : points.front();
  }
  [[nodiscard]] Cell cell(const Point& p) const {
    constexpr double far = 1e15;  // beyond any drawing; the shape's own check refuses what lies out there
    const auto index = [&](double mm) {
      return std::llround(std::clamp(std::floor(mm / reach_mm_), -far, far));
    };
    return {index(p.x_mm), index(p.y_mm)};
  }

  /// Ends of unused strokes near a point.
  [[nodiscard]] std::vector<End> near(const Point& p) const {
    std::vector<End> found;
    const Cell middle = cell(p);
    for (std::int64_t x = middle.first - 1; x <= middle.first + 1; ++x)
      for (std::int64_t y = middle.second - 1; y <= middle.second + 1; ++y) {
        const auto here = cells_.find({x, y});
        if (here == cells_.end()) continue;
        for (const End& end : here->second)
          if (!used_[end.stroke] && distance_mm(end_point(end), p) <= reach_mm_) found.push_back(end);
      }
    return found;
  }

  void follow(std::size_t first) {
    used_[first] = true;
    Ring ring = strokes_[first].stroke.points;
    const Point start = ring.front();
    while (ring.size() < 3 || distance_mm(ring.back(), start) > reach_mm_) {
      const std::vector<End> next = near(ring.back());
      if (next.empty()) refuse_open(first, ring.back());
      if (next.size() > 1) refuse_branch(next.front(), ring.back());
      used_[next.front().stroke] = true;
      Ring points = strokes_[next.front().stroke].stroke.points;
      if (next.front().last) std::reverse(points.begin(), points.end());
      ring.insert(ring.end(), points.begin() + 1, points.end());
    }
    ring.pop_back();  // it repeats the start
    rings_.push_back({std::move(ring), strokes_[first].place, strokes_[first].name});
  }

  [[noreturn]] void refuse_open(std::size_t first, const Point& at) const {
    const PlacedStroke& stroke = strokes_[first];
    const Point& start = stroke.stroke.points.front();
    refuse(
        stroke.place,
        fmt::format("the line that begins with this {} at x = {:.2f} mm, y = {:.2f} mm is open: nothing "
                    "continues it at x = {:.2f} mm, y = {:.2f} mm",
                    stroke.name, start.x_mm, start.y_mm, at.x_mm, at.y_mm),
        "join the line's ends into one closed shape; put marks that are no edge into another layer and the "
        "outline into one named \"cut\"");
  }
  [[noreturn]] void refuse_branch(const End& end, const Point& at) const {
    refuse(strokes_[end.stroke].place,
           fmt::format("more than two lines meet at x = {:.2f} mm, y = {:.2f} mm", at.x_mm, at.y_mm),
           "remove doubled lines and marks, or put the outline into a layer named \"cut\"");
  }

  std::vector<PlacedStroke> strokes_;
  double reach_mm_;
  std::map<Cell, std::vector<End>> cells_;
  std::vector<bool> used_;
  std::vector<PlacedRing> rings_;
};

}  // namespace

std::vector<PlacedRing> join_strokes(std::vector<PlacedStroke> strokes, double reach_mm) {
  return Joiner(std::move(strokes), reach_mm).join();
}

}  // namespace warmsheet::outline
