// SPDX-License-Identifier: MIT
#include "nesting/convex.h"

#include <cstdint>
#include <list>
#include <map>
#include <numbers>
#include <utility>

namespace warmsheet::nesting {
namespace {

using Index = std::size_t;
using Corners = std::vector<Index>;  // of one loop, indices into a common vertex list

/// The region as one closed walk: each hole entered and left over a bridge.
struct Walk {
  Loop points;
  Corners corners;
};

bool left_turn(Vec a, Vec b, Vec c) {
  return cross(b - a, c - b) > 0.0;
}

bool in_triangle(Vec p, Vec a, Vec b, Vec c) {
  return cross(b - a, p - a) >= 0.0 && cross(c - b, p - b) >= 0.0 && cross(a - c, p - c) >= 0.0;
}

bool boxes_meet(Vec a, Vec b, Vec c, Vec d) {
  return std::max(a.x, b.x) >= std::min(c.x, d.x) && std::max(c.x, d.x) >= std::min(a.x, b.x) &&
         std::max(a.y, b.y) >= std::min(c.y, d.y) && std::max(c.y, d.y) >= std::min(a.y, b.y);
}

/// Whether the segments cross or touch; a shared end does not count.
bool blocked(Vec a, Vec b, Vec c, Vec d) {
  if (a == c || a == d || b == c || b == d || !boxes_meet(a, b, c, d)) return false;
  return cross(b - a, c - a) * cross(b - a, d - a) <= 0.0 && cross(d - c, a - c) * cross(d - c, b - c) <= 0.0;
}

bool in_cone(const Walk& walk, Index at, Vec target) {
  const Corners& c = walk.corners;
  const Vec here = walk.points[c[at]];
  const Vec before = walk.points[c[(at + c.size() - 1) % c.size()]];
  const Vec after = walk.points[c[(at + 1) % c.size()]];
  const bool left_of_in = cross(here - before, target - here) > 0.0;
  const bool left_of_out = cross(after - here, target - here) > 0.0;
  return left_turn(before, here, after) ? left_of_in && left_of_out : left_of_in || left_of_out;
}

bool visible(const Walk& walk, const std::vector<Loop>& obstacles, Vec from, Vec to) {
  const Corners& c = walk.corners;
  for (Index i = 0; i < c.size(); ++i) {
    if (blocked(from, to, walk.points[c[i]], walk.points[c[(i + 1) % c.size()]])) return false;
  }
  for (const Loop& loop : obstacles) {
    for (Index i = 0; i < loop.size(); ++i) {
      if (blocked(from, to, loop[i], loop[(i + 1) % loop.size()])) return false;
    }
  }
  return true;
}

/// The place in the walk from which the rightmost corner of the hole is seen, nearest first.
Index bridge_to(const Walk& walk, const std::vector<Loop>& holes, Vec corner) {
  std::vector<std::pair<double, Index>> by_distance;
  for (Index i = 0; i < walk.corners.size(); ++i) {
    const Vec d = walk.points[walk.corners[i]] - corner;
    by_distance.emplace_back(dot(d, d), i);
  }
  std::sort(by_distance.begin(), by_distance.end());
  for (const auto& [distance, i] : by_distance) {
    if (in_cone(walk, i, corner) && visible(walk, holes, walk.points[walk.corners[i]], corner)) return i;
  }
  return by_distance.front().second;  // numerically blocked everywhere: the nearest does least harm
}

Index rightmost(const Loop& loop) {
  const auto it = std::max_element(loop.begin(), loop.end(), [](Vec a, Vec b) { return a.x < b.x; });
  return static_cast<Index>(it - loop.begin());
}

void join(Walk& walk, const std::vector<Loop>& holes, const Loop& hole) {
  const Index start = rightmost(hole);
  const Index at = bridge_to(walk, holes, hole[start]);
  const Index first = walk.points.size();
  walk.points.insert(walk.points.end(), hole.begin(), hole.end());
  Corners detour;
  for (Index i = 0; i <= hole.size(); ++i) detour.push_back(first + (start + i) % hole.size());
  detour.push_back(walk.corners[at]);
  walk.corners.insert(walk.corners.begin() + static_cast<std::ptrdiff_t>(at) + 1, detour.begin(),
                      detour.end());
}

Walk walk_of(const Region& region) {
  Walk walk{region.outer, {}};
  for (Index i = 0; i < region.outer.size(); ++i) walk.corners.push_back(i);
  std::vector<Loop> holes = region.holes;
  std::sort(holes.begin(), holes.end(),
            [](const Loop& a, const Loop& b) { return a[rightmost(a)].x > b[rightmost(b)].x; });
  while (!holes.empty()) {
    join(walk, holes, holes.front());
    holes.erase(holes.begin());
  }
  return walk;
}

bool is_ear(const Walk& walk, Index at) {
  const Corners& c = walk.corners;
  const Index n = c.size();
  const Vec a = walk.points[c[(at + n - 1) % n]];
  const Vec b = walk.points[c[at]];
  const Vec d = walk.points[c[(at + 1) % n]];
  if (!left_turn(a, b, d)) return false;
  for (Index i = 0; i < n; ++i) {
    const Vec p = walk.points[c[i]];
    if (p == a || p == b || p == d) continue;
    if (in_triangle(p, a, b, d)) return false;
  }
  return true;
}

/// Short diagonals first: fat triangles, which merge into few parts.
double diagonal(const Walk& walk, Index at) {
  const Corners& c = walk.corners;
  const Vec d = walk.points[c[(at + 1) % c.size()]] - walk.points[c[(at + c.size() - 1) % c.size()]];
  return dot(d, d);
}

Index next_ear(const Walk& walk) {
  const Index n = walk.corners.size();
  Index best = n;
  for (Index i = 0; i < n; ++i) {
    if (best < n && diagonal(walk, i) >= diagonal(walk, best)) continue;
    if (is_ear(walk, i)) best = i;
  }
  if (best < n) return best;
  for (Index i = 0; i < n; ++i) {  // nothing but flat corners and spikes left: cut where least is lost
    const Vec a = walk.points[walk.corners[(i + n - 1) % n]];
    const Vec d = walk.points[walk.corners[(i + 1) % n]];
    if (std::abs(cross(walk.points[walk.corners[i]] - a, d - a)) == 0.0) return i;
  }
  return 0;
}

std::vector<Corners> triangles_of(Walk walk) {
  std::vector<Corners> triangles;
  while (walk.corners.size() > 2) {
    const Index n = walk.corners.size();
    const Index at = n == 3 ? 1 : next_ear(walk);
    const Corners triangle{walk.corners[(at + n - 1) % n], walk.corners[at], walk.corners[(at + 1) % n]};
    if (left_turn(walk.points[triangle[0]], walk.points[triangle[1]], walk.points[triangle[2]]))
      triangles.push_back(triangle);
    walk.corners.erase(walk.corners.begin() + static_cast<std::ptrdiff_t>(at));
  }
  return triangles;
}

/// Parts that are merged over the diagonals between them.
class Merger {
 public:
  Merger(const Loop& points, std::vector<Corners> parts) : points_(points), parts_(std::move(parts)) {
    for (Index part = 0; part < parts_.size(); ++part) claim(part);
  }

  std::vector<Loop> merged() {
    for (const auto& [from, to] : diagonals()) merge_over(from, to);
    std::vector<Loop> loops;
    for (const Corners& part : parts_) {
      if (part.empty()) continue;
      Loop loop;
      for (const Index i : part) loop.push_back(points_[i]);
      loops.push_back(std::move(loop));
    }
    return loops;
  }

 private:
  using Edge = std::pair<Index, Index>;

  void claim(Index part) {
    const Corners& c = parts_[part];
    for (Index i = 0; i < c.size(); ++i) owner_[{c[i], c[(i + 1) % c.size()]}] = part;
  }

  /// Longest first: what a long diagonal separates is most worth joining.
  [[nodiscard]] std::vector<Edge> diagonals() const {
    std::vector<Edge> found;
    for (const auto& [edge, part] : owner_) {
      if (edge.first < edge.second && owner_.contains({edge.second, edge.first})) found.push_back(edge);
    }
    std::stable_sort(found.begin(), found.end(), [this](const Edge& a, const Edge& b) {
      return length(points_[a.second] - points_[a.first]) > length(points_[b.second] - points_[b.first]);
    });
    return found;
  }

  void merge_over(Index from, Index to) {
    const Index left = owner_.at({from, to});
    const Index right = owner_.at({to, from});
    if (left == right) return;
    Corners joined = path(parts_[left], to, from);  // round the left part from `to` back to `from`
    const Corners rest = path(parts_[right], from, to);
    joined.insert(joined.end(), rest.begin() + 1, rest.end() - 1);
    if (!convex(joined)) return;
    parts_[left] = std::move(joined);
    parts_[right].clear();
    claim(left);
  }

  static Corners path(const Corners& loop, Index from, Index to) {
    Corners steps;
    Index i = static_cast<Index>(std::find(loop.begin(), loop.end(), from) - loop.begin());
    for (; loop[i % loop.size()] != to; ++i) steps.push_back(loop[i % loop.size()]);
    steps.push_back(to);
    return steps;
  }

  [[nodiscard]] bool convex(const Corners& c) const {
    for (Index i = 0; i < c.size(); ++i) {
      const Vec a = points_[c[i]];
      const Vec b = points_[c[(i + 1) % c.size()]];
      const Vec d = points_[c[(i + 2) % c.size()]];
      if (cross(b - a, d - b) < 0.0) return false;
    }
    return true;
  }

  const Loop& points_;
  std::vector<Corners> parts_;
  std::map<Edge, Index> owner_;
};

Vec unit_normal(Vec from, Vec to) {
  const Vec d = to - from;
  return (1.0 / length(d)) * Vec{d.y, -d.x};
}

double support(const Loop& part, Vec normal) {
  double most = dot(normal, part.front());
  for (const Vec p : part) most = std::max(most, dot(normal, p));
  return most;
}

double bearing(Vec v) {
  return std::atan2(v.y, v.x);
}

/// Sorted by bearing, nearly equal ones once, gaps filled so that no corner is sharper than `widest_turn`
/// allows.
Normals settled(Normals normals) {
  constexpr double same_bearing = 1e-9;
  constexpr double widest_turn =
      std::numbers::pi / 2.0 + 1e-6;  // a right angle stays one corner: rectangles tile
  std::sort(normals.begin(), normals.end(), [](Vec a, Vec b) { return bearing(a) < bearing(b); });
  Normals distinct;
  for (const Vec n : normals) {
    if (distinct.empty() || bearing(n) - bearing(distinct.back()) > same_bearing) distinct.push_back(n);
  }
  Normals filled;
  for (Index i = 0; i < distinct.size(); ++i) {
    const double from = bearing(distinct[i]);
    double turn = bearing(distinct[(i + 1) % distinct.size()]) - from;
    if (turn <= 0.0) turn += 2.0 * std::numbers::pi;
    filled.push_back(distinct[i]);
    if (turn <= widest_turn) continue;
    const int steps = static_cast<int>(std::ceil(turn / (std::numbers::pi / 3.0)));
    for (int k = 1; k < steps; ++k) {
      const double b = from + turn * k / steps;
      filled.push_back({std::cos(b), std::sin(b)});
    }
  }
  return filled;
}

Vec crossing(Vec n, double c, Vec m, double d) {
  const double det = cross(n, m);
  return {(c * m.y - d * n.y) / det, (d * n.x - c * m.x) / det};
}

Index lowest(const Loop& loop) {
  const auto it = std::min_element(loop.begin(), loop.end(),
                                   [](Vec a, Vec b) { return a.y < b.y || (a.y == b.y && a.x < b.x); });
  return static_cast<Index>(it - loop.begin());
}

}  // namespace

std::vector<Loop> convex_parts(const Region& region) {
  const Walk walk = walk_of(region);
  return Merger(walk.points, triangles_of(walk)).merged();
}

Loop grown(const Loop& part, const Normals& tangents, double distance) {
  if (distance <= 0.0) return part;
  Normals normals = tangents;
  for (Index i = 0; i < part.size(); ++i) {
    const Vec to = part[(i + 1) % part.size()];
    if (!(part[i] == to)) normals.push_back(unit_normal(part[i], to));
  }
  normals = settled(std::move(normals));
  Loop loop;
  for (Index i = 0; i < normals.size(); ++i) {
    const Vec n = normals[i];
    const Vec m = normals[(i + 1) % normals.size()];
    loop.push_back(crossing(n, support(part, n) + distance, m, support(part, m) + distance));
  }
  return loop;
}

std::vector<Normals> corner_tangents(const Region& region, const std::vector<Loop>& parts) {
  std::map<std::pair<double, double>, Normals> at;
  const auto note = [&at](const Loop& loop) {
    const Index n = loop.size();
    for (Index i = 0; i < n; ++i) {
      const Vec before = loop[(i + n - 1) % n];
      const Vec after = loop[(i + 1) % n];
      if (!left_turn(before, loop[i], after)) continue;
      at[{loop[i].x, loop[i].y}] = {unit_normal(before, loop[i]), unit_normal(loop[i], after)};
    }
  };
  note(region.outer);
  for (const Loop& hole : region.holes) note(hole);
  std::vector<Normals> tangents(parts.size());
  for (Index i = 0; i < parts.size(); ++i) {
    for (const Vec corner : parts[i]) {
      const auto found = at.find({corner.x, corner.y});
      if (found != at.end())
        tangents[i].insert(tangents[i].end(), found->second.begin(), found->second.end());
    }
  }
  return tangents;
}

Loop contact_loop(const Loop& a, const Loop& b) {
  Loop minus;
  for (const Vec p : b) minus.push_back(-p);
  Loop sum;
  const Index start_a = lowest(a);
  const Index start_b = lowest(minus);
  Index i = 0;
  Index j = 0;
  while (i < a.size() || j < minus.size()) {
    const Vec pa = a[(start_a + i) % a.size()];
    const Vec pb = minus[(start_b + j) % minus.size()];
    sum.push_back(pa + pb);
    const Vec ea = a[(start_a + i + 1) % a.size()] - pa;
    const Vec eb = minus[(start_b + j + 1) % minus.size()] - pb;
    const double turn = cross(ea, eb);
    const bool step_a = j >= minus.size() || (i < a.size() && turn >= 0.0);
    const bool step_b = i >= a.size() || (j < minus.size() && turn <= 0.0);
    if (step_a) ++i;
    if (step_b) ++j;
  }
  return sum;
}

}  // namespace warmsheet::nesting
