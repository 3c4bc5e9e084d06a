// SPDX-License-Identifier: MIT
#include "outline/lines.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "outline/geos.h"

namespace warmsheet::outline {
namespace {

/// Chords of a drawn arc stay this near to it; a line on the edge may leave the shape by as much.
constexpr double arc_tolerance_mm = 0.05;
/// A line that is off the material for less is not worth a word.
constexpr double slack_mm = 0.5;

/// A place on a ring: on the edge after vertex `index`, `share` of the way along.
struct Spot {
  std::size_t index = 0;
  double share = 0.0;
  Point at;
};

Spot nearest_spot(const Ring& ring, const Point& to) {
  Spot best;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point& a = ring[i];
    const Point& b = ring[(i + 1) % ring.size()];
    const Point edge{b.x_mm - a.x_mm, b.y_mm - a.y_mm};
    const double squared = edge.x_mm * edge.x_mm + edge.y_mm * edge.y_mm;
    const double along = (to.x_mm - a.x_mm) * edge.x_mm + (to.y_mm - a.y_mm) * edge.y_mm;
    const double t = squared == 0.0 ? 0.0 : std::clamp(along / squared, 0.0, 1.0);
    const Point at{a.x_mm + t * edge.x_mm, a.y_mm + t * edge.y_mm};
    const double away = std::hypot(to.x_mm - at.x_mm, to.y_mm - at.y_mm);
    if (away >= least) continue;
    least = away;
    best = {i, t, at};
  }
  return best;
}

/// The ring's part from one spot onward to another.
Path part_between(const Ring& ring, const Spot& from, const Spot& to) {
  Path path{from.at};
  const bool ahead = to.index == from.index && to.share >= from.share;
  const std::size_t steps = ahead ? 0 : (to.index + ring.size() - from.index - 1) % ring.size() + 1;
  for (std::size_t i = 1; i <= steps; ++i) path.push_back(ring[(from.index + i) % ring.size()]);
  path.push_back(to.at);
  return path;
}

/// Where a corner of the design ended up; corners that fell together are known by the first of them.
Point corner_at(const RoundedRing& ring, std::size_t number) {
  const RoundedCorner* last = &ring.corners.front();
  for (const RoundedCorner& corner : ring.corners)
    if (corner.index < number) last = &corner;
  return last->at;
}

Path along_edge(const library::DesignLine::Along& along, const Drawn& drawn, double inset_mm,
                const Polygon& shape) {
  const std::vector<geos::Piece> inner = geos::offset(Polygon::make(shape.outer(), {}, {}), -inset_mm);
  const auto largest = std::max_element(
      inner.begin(), inner.end(),
      [](const geos::Piece& a, const geos::Piece& b) { return a.area_mm2() < b.area_mm2(); });
  if (largest == inner.end()) return {};
  const Ring& ring = largest->outer;
  return part_between(ring, nearest_spot(ring, corner_at(drawn.outer, along.from)),
                      nearest_spot(ring, corner_at(drawn.outer, along.to)));
}

Path around_hole(const Ring& hole, double inset_mm) {
  const std::vector<geos::Piece> grown = geos::offset(Polygon::make(hole, {}, {}), inset_mm);
  if (grown.size() != 1) return {};
  Path path = grown.front().outer;
  path.push_back(path.front());
  return path;
}

Path whole_line(const library::Design& design, const Drawn& drawn, std::size_t index, const Polygon& shape) {
  const library::DesignLine& line = design.lines[index];
  const Drawn::Line& given = drawn.lines[index];
  if (line.along) return along_edge(*line.along, drawn, given.inset_mm, shape);
  for (std::size_t i = 0; i < design.holes.size(); ++i)
    if (design.holes[i].id == line.around) return around_hole(drawn.holes[i].ring, given.inset_mm);
  return round_bends(given.points, arc_tolerance_mm);
}

}  // namespace

PlacedLine place_line(const library::Design& design, const Drawn& drawn, std::size_t index,
                      const Polygon& shape) {
  const Path line = whole_line(design, drawn, index, shape);
  std::vector<Path> parts = geos::parts_on(shape, line);
  double on_mm = 0.0;
  for (const Path& part : parts) on_mm += path_length_mm(part);
  const bool whole = path_length_mm(line) - on_mm <= slack_mm;
  const bool inside = !parts.empty() && (whole || design.lines[index].to_edge);
  if (whole && !parts.empty()) return {{line}, inside};  // in one piece, not cut where it touches the edge
  return {std::move(parts), inside};
}

}  // namespace warmsheet::outline
