// SPDX-License-Identifier: MIT
#include "nesting/form.h"

#include "base/dimension.h"
#include "nesting/convex.h"

namespace warmsheet::nesting {
namespace {

Loop loop_of(const outline::Ring& ring) {
  Loop loop;
  for (const outline::Point& p : ring) loop.push_back({p.x_mm, p.y_mm});
  return loop;
}

void shift(Loop& loop, Vec by) {
  for (Vec& p : loop) p = p + by;
}

}  // namespace

Region region_of(const outline::Polygon& shape) {
  Region region{loop_of(shape.outer()), {}};
  for (const outline::Ring& hole : shape.holes()) region.holes.push_back(loop_of(hole));
  return region;
}

Form form_of(const Region& region, double growth, const Coarseness& coarseness) {
  Form form;
  form.centre = extent_of(region.outer).centre();
  Region moved = region;
  shift(moved.outer, -form.centre);
  for (Loop& hole : moved.holes) shift(hole, -form.centre);
  form.area = signed_area(moved.outer);
  for (const Loop& hole : moved.holes) form.area += signed_area(hole);
  form.hull = convex_hull(moved.outer);
  form.hull_area = signed_area(form.hull);
  form.diameter = diameter_of(form.hull);

  const Region coarse = simplified(moved, coarseness);
  form.bare = convex_parts(coarse);
  form.bare_poles = poles_of(coarse);
  const std::vector<Normals> tangents = corner_tangents(coarse, form.bare);
  for (std::size_t i = 0; i < form.bare.size(); ++i)
    form.parts.push_back(grown(form.bare[i], tangents[i], growth));
  form.poles = form.bare_poles;
  for (Pole& pole : form.poles) pole.radius += growth;
  return form;
}

double narrowest_lean_deg(const Region& region) {
  const Loop hull = convex_hull(region.outer);
  double best_deg = 0.0;
  double narrowest = extent_of(hull).width();
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Vec edge = hull[(i + 1) % hull.size()] - hull[i];
    const double upright_deg = 90.0 - deg_of_rad(std::atan2(edge.y, edge.x));
    const double width = extent_of(turned(hull, turn_by(upright_deg))).width();
    constexpr double clearly = 1.0 - 1e-9;  // a shape drawn along the axes stays as it was drawn
    if (width >= clearly * narrowest) continue;
    narrowest = width;
    best_deg = upright_deg;
  }
  return best_deg;
}

Region turned(const Region& region, Turn turn) {
  Region made{turned(region.outer, turn), {}};
  for (const Loop& hole : region.holes) made.holes.push_back(turned(hole, turn));
  return made;
}

bool is_rectangle(const outline::Polygon& shape) {
  if (shape.outer().size() != 4 || !shape.holes().empty()) return false;
  const outline::Box& box = shape.box();
  for (const outline::Point& p : shape.outer()) {
    const bool on_x = p.x_mm == box.low.x_mm || p.x_mm == box.high.x_mm;
    const bool on_y = p.y_mm == box.low.y_mm || p.y_mm == box.high.y_mm;
    if (!on_x || !on_y) return false;
  }
  return true;
}

Extent extent_turned(const Form& form, Turn turn) {
  Extent extent;
  for (const Vec p : form.hull) extent.take(turn(p));
  return extent;
}

}  // namespace warmsheet::nesting
