// SPDX-License-Identifier: MIT
#include "nesting/form.h"

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

Extent extent_turned(const Form& form, Turn turn) {
  Extent extent;
  for (const Vec p : form.hull) extent.take(turn(p));
  return extent;
}

}  // namespace warmsheet::nesting
