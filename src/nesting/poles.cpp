// SPDX-License-Identifier: MIT
// The largest disc is searched on a grid of depths (distance to the edge) that is computed once and lowered
// by each disc found; the best grid point is then walked uphill to a thousandth of the grid step.
#include "nesting/poles.h"

#include <array>
#include <numbers>

namespace warmsheet::nesting {
namespace {

constexpr int grid_points_along = 40;
constexpr std::size_t most_poles = 28;
constexpr double smallest_share =
    0.01;  // of the diameter: smaller discs say nothing about the depth of an overlap

double distance_to_edge(Vec p, Vec a, Vec b) {
  const Vec ab = b - a;
  const double along = std::clamp(dot(p - a, ab) / dot(ab, ab), 0.0, 1.0);
  return length(p - (a + along * ab));
}

/// Distance to the nearest edge, negative outside.
double depth(const std::vector<const Loop*>& loops, Vec p) {
  bool in = false;
  double nearest = std::numeric_limits<double>::infinity();
  for (const Loop* loop : loops) {
    Vec a = loop->back();
    for (const Vec b : *loop) {
      nearest = std::min(nearest, distance_to_edge(p, a, b));
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) in = !in;
      a = b;
    }
  }
  return in ? nearest : -nearest;
}

struct Sample {
  Vec at;
  double room;  // radius of the largest disc here
};

class PoleSearch {
 public:
  explicit PoleSearch(const Region& region) {
    loops_.push_back(&region.outer);
    for (const Loop& hole : region.holes) loops_.push_back(&hole);
    const Extent extent = extent_of(region.outer);
    diameter_ = std::hypot(extent.width(), extent.height());
    step_ = std::max(extent.width(), extent.height()) / grid_points_along;
    // A shape thinner than a step is sampled along its middle.
    const Vec first{extent.x0 + 0.5 * std::min(step_, extent.width()),
                    extent.y0 + 0.5 * std::min(step_, extent.height())};
    for (double y = first.y; y < extent.y1; y += step_) {
      for (double x = first.x; x < extent.x1; x += step_) {
        const double room = depth(loops_, {x, y});
        if (room > -step_) samples_.push_back({{x, y}, room});
      }
    }
  }

  [[nodiscard]] Pole first() const {
    if (samples_.empty()) return {{}, 0.0};
    Pole pole = climb(largest());
    pole.radius = std::clamp(depth(loops_, pole.at), 0.0, pole.radius);
    return pole;
  }

  std::vector<Pole> run(double area) {
    double covered = 0.0;
    while (poles_.size() < most_poles && !samples_.empty()) {
      const Pole pole = climb(largest());
      if (!poles_.empty() && pole.radius < smallest_share * diameter_) break;
      take(pole);
      covered += std::numbers::pi * pole.radius * pole.radius;
      if (enough(covered / area)) break;
    }
    return poles_;
  }

 private:
  [[nodiscard]] const Sample& largest() const {
    return *std::max_element(samples_.begin(), samples_.end(),
                             [](const Sample& a, const Sample& b) { return a.room < b.room; });
  }

  [[nodiscard]] bool enough(double covered) const {
    constexpr double well = 0.90;
    constexpr double fairly = 0.80;
    return (covered > well && poles_.size() >= 6) || (covered > fairly && poles_.size() >= 12);
  }

  [[nodiscard]] double room(Vec p) const {
    double room = depth(loops_, p);
    for (const Pole& pole : poles_) room = std::min(room, length(p - pole.at) - pole.radius);
    return room;
  }

  [[nodiscard]] Pole climb(Sample from) const {
    constexpr double finest = 1e-3;
    for (double step = 0.5 * step_; step > finest * step_;) {
      Sample best = from;
      for (const Vec d :
           {Vec{1, 0}, Vec{-1, 0}, Vec{0, 1}, Vec{0, -1}, Vec{1, 1}, Vec{-1, 1}, Vec{1, -1}, Vec{-1, -1}}) {
        const Vec p = from.at + step * d;
        const double here = room(p);
        if (here > best.room) best = {p, here};
      }
      if (best.room > from.room) {
        from = best;
      } else {
        step *= 0.5;
      }
    }
    // A sliver thinner than the grid still has an inside; a token disc keeps its losses finite.
    return {from.at, std::max(from.room, finest * step_)};
  }

  void take(const Pole& pole) {
    poles_.push_back(pole);
    for (Sample& s : samples_) s.room = std::min(s.room, length(s.at - pole.at) - pole.radius);
  }

  std::vector<const Loop*> loops_;
  double diameter_ = 0.0;
  double step_ = 0.0;
  std::vector<Sample> samples_;
  std::vector<Pole> poles_;
};

}  // namespace

std::vector<Pole> poles_of(const Region& region) {
  double area = signed_area(region.outer);
  for (const Loop& hole : region.holes) area += signed_area(hole);
  return PoleSearch(region).run(area);
}

Pole inscribed_circle(const Region& region) {
  return PoleSearch(region).first();
}

void PoleCloud::set(const std::vector<Pole>& poles, Turn turn) {
  for (auto* values : {&x_, &y_, &radius_}) values->clear();
  for (const Pole& pole : poles) {
    const Vec at = turn(pole.at);
    x_.push_back(static_cast<float>(at.x));
    y_.push_back(static_cast<float>(at.y));
    radius_.push_back(static_cast<float>(pole.radius));
  }
}

double PoleCloud::overlap(const PoleCloud& other, Vec p, double epsilon) const {
  std::array<float, most_poles> sums{};
  const auto e = static_cast<float>(epsilon);
  const std::size_t count = std::min(other.x_.size(), most_poles);
  const float* bx = other.x_.data();
  const float* by = other.y_.data();
  const float* br = other.radius_.data();
  for (std::size_t i = 0; i < x_.size(); ++i) {
    const float ax = x_[i] - static_cast<float>(p.x);
    const float ay = y_[i] - static_cast<float>(p.y);
    const float ar = radius_[i];
    for (std::size_t k = 0; k < count; ++k) {
      const float dx = ax - bx[k];
      const float dy = ay - by[k];
      const float depth = ar + br[k] - std::sqrt(dx * dx + dy * dy);
      const float shallow = e * e / (2.0F * e - std::min(depth, e));
      sums[k] += std::max(depth, shallow) * std::min(ar, br[k]);
    }
  }
  float total = 0.0F;
  for (std::size_t k = 0; k < count; ++k) total += sums[k];
  return std::numbers::pi * static_cast<double>(total);
}

LossScale::LossScale(double hull_area_a, double diameter_a, double hull_area_b, double diameter_b) {
  constexpr double epsilon_share = 0.01;  // of the larger diameter
  epsilon = epsilon_share * std::max(diameter_a, diameter_b);
  size = std::sqrt(std::sqrt(hull_area_a * hull_area_b));
}

double LossScale::loss(const PoleCloud& a, const PoleCloud& b, Vec p) const {
  return std::sqrt(a.overlap(b, p, epsilon) + epsilon * epsilon) * size;
}

}  // namespace warmsheet::nesting
