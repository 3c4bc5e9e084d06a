// SPDX-License-Identifier: MIT
#include "nesting/simplify.h"

#include <optional>
#include <utility>

namespace warmsheet::nesting {
namespace {

/// One way to have a corner less: `gone` corners from `at` on are replaced by `by`, if any.
struct Step {
  double cost = 0.0;  // area added, mm2
  std::size_t loop = 0;
  std::size_t at = 0;
  std::size_t gone = 1;
  std::optional<Vec> by;
};

double triangle(Vec a, Vec b, Vec c) {
  return 0.5 * cross(b - a, c - a);
}

bool inside(Vec p, Vec a, Vec b, Vec c) {
  const bool ab = cross(b - a, p - a) >= 0.0;
  const bool bc = cross(c - b, p - b) >= 0.0;
  const bool ca = cross(a - c, p - c) >= 0.0;
  return ab == bc && bc == ca;
}

bool segment_meets_triangle(Vec p, Vec q, Vec a, Vec b, Vec c) {
  if (std::max(p.x, q.x) < std::min({a.x, b.x, c.x}) || std::min(p.x, q.x) > std::max({a.x, b.x, c.x}))
    return false;
  if (std::max(p.y, q.y) < std::min({a.y, b.y, c.y}) || std::min(p.y, q.y) > std::max({a.y, b.y, c.y}))
    return false;
  if (inside(p, a, b, c) || inside(q, a, b, c)) return true;
  const auto crosses = [&](Vec s, Vec t) {
    return cross(q - p, s - p) * cross(q - p, t - p) <= 0.0 &&
           cross(t - s, p - s) * cross(t - s, q - s) <= 0.0;
  };
  return crosses(a, b) || crosses(b, c) || crosses(c, a);
}

/// Whether p is seen from the apex between two directions less than half a turn apart.
bool between(Vec p, Vec apex, Vec right, Vec left) {
  return cross(right - apex, p - apex) >= 0.0 && cross(p - apex, left - apex) >= 0.0;
}

class Simplifier {
 public:
  Simplifier(const Region& region, const Coarseness& coarseness)
      : coarseness_(coarseness), extent_(extent_of(region.outer)) {
    loops_.push_back(region.outer);
    loops_.insert(loops_.end(), region.holes.begin(), region.holes.end());
    double area = 0.0;
    for (const Loop& loop : loops_) area += signed_area(loop);
    allowance_ = coarseness.area_share * area;
    constexpr double rounding = 1e-14;
    nothing_ = rounding * extent_.width() * extent_.height();
  }

  Region run() {
    plan_all();
    while (!steps_.empty()) {
      const auto it = std::min_element(steps_.begin(), steps_.end(), [](const Step& a, const Step& b) {
        return std::pair(a.cost, std::pair(a.loop, a.at)) < std::pair(b.cost, std::pair(b.loop, b.at));
      });
      if (spent_ + it->cost > allowance_ && corners() <= coarseness_.most_corners) break;
      const Step step = *it;
      if (clear(step)) {
        take(step);
      } else {
        steps_.erase(it);
      }
    }
    return result();
  }

 private:
  [[nodiscard]] std::size_t corners() const {
    std::size_t count = 0;
    for (const Loop& loop : loops_) count += loop.size();
    return count;
  }

  void plan_all() {
    for (std::size_t i = 0; i < loops_.size(); ++i) plan_loop(i);
  }

  void plan_loop(std::size_t which) {
    if (loops_[which].size() <= 3) {
      if (which > 0 && !loops_[which].empty())
        steps_.push_back({-signed_area(loops_[which]), which, 0, 3, {}});
      return;
    }
    for (std::size_t at = 0; at < loops_[which].size(); ++at) plan(which, at);
  }

  [[nodiscard]] Vec corner(std::size_t which, std::size_t at) const {
    const Loop& loop = loops_[which];
    return loop[at % loop.size()];
  }

  /// Filling the notch at a corner, or running two convex corners into one.
  void plan(std::size_t which, std::size_t at) {
    const std::size_t n = loops_[which].size();
    const Vec before = corner(which, at + n - 1);
    const Vec here = corner(which, at);
    const Vec next = corner(which, at + 1);
    const double notch = -triangle(before, here, next);
    if (notch >= 0.0) {
      steps_.push_back({notch, which, at, 1, {}});
      return;
    }
    const Vec after = corner(which, at + 2);
    if (n < 4 || triangle(here, next, after) <= 0.0) return;
    const Vec along = here - before;
    const Vec along_next = next - after;
    const double det = cross(along, along_next);
    if (det <= 0.0) return;  // the two edges do not meet on the outside
    const double k = cross(next - here, along_next) / det;
    const Vec tip = here + k * along;
    if (k <= 0.0 || tip.x < extent_.x0 || tip.x > extent_.x1 || tip.y < extent_.y0 || tip.y > extent_.y1)
      return;
    steps_.push_back({std::abs(triangle(here, tip, next)), which, at, 2, tip});
  }

  /// Whether nothing else lies in the area that the step adds.
  [[nodiscard]] bool clear(const Step& step) const {
    const Loop& loop = loops_[step.loop];
    const std::size_t n = loop.size();
    if (step.gone == 3 || step.cost <= nothing_) return true;  // no area is added by dropping a flat corner
    const Vec a = step.by ? corner(step.loop, step.at) : corner(step.loop, step.at + n - 1);
    const Vec b = step.by ? *step.by : corner(step.loop, step.at);
    const Vec c = corner(step.loop, step.at + 1);
    if (!step.by && (between(corner(step.loop, step.at + n - 2), a, c, b) ||
                     between(corner(step.loop, step.at + 2), c, b, a)))
      return false;
    const std::size_t next_to_it =
        step.by ? 1 : 0;  // edges numbered from two before `at`: those that end at the change
    for (std::size_t which = 0; which < loops_.size(); ++which) {
      for (std::size_t i = 0; i < loops_[which].size(); ++i) {
        const std::size_t number = (i + n + 2 - step.at) % n;
        if (which == step.loop && number >= next_to_it && number <= 3) continue;
        if (segment_meets_triangle(corner(which, i), corner(which, i + 1), a, b, c)) return false;
      }
    }
    return true;
  }

  void take(const Step& step) {
    Loop& loop = loops_[step.loop];
    spent_ += step.cost;
    if (step.gone == 3) {
      loop.clear();
    } else {
      if (step.by) loop[(step.at + 1) % loop.size()] = *step.by;
      loop.erase(loop.begin() + static_cast<std::ptrdiff_t>(step.at));
    }
    std::erase_if(steps_, [&](const Step& s) { return s.loop == step.loop; });
    plan_loop(step.loop);
  }

  [[nodiscard]] Region result() const {
    Region region{loops_.front(), {}};
    for (std::size_t i = 1; i < loops_.size(); ++i) {
      if (!loops_[i].empty()) region.holes.push_back(loops_[i]);
    }
    return region;
  }

  Coarseness coarseness_;
  Extent extent_;
  std::vector<Loop> loops_;
  std::vector<Step> steps_;
  double allowance_ = 0.0;
  double nothing_ = 0.0;  // an area below this is rounding
  double spent_ = 0.0;
};

}  // namespace

Region simplified(const Region& region, const Coarseness& coarseness) {
  return Simplifier(region, coarseness).run();
}

}  // namespace warmsheet::nesting
