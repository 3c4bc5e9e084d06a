// SPDX-License-Identifier: MIT
#include "outline/ring_nesting.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "outline/geos.h"
#include "outline/refuse.h"

namespace warmsheet::outline {
namespace {

bool box_holds(const Box& outer, const Box& inner) {
  return outer.low.x_mm <= inner.low.x_mm && outer.low.y_mm <= inner.low.y_mm &&
         outer.high.x_mm >= inner.high.x_mm && outer.high.y_mm >= inner.high.y_mm;
}

struct Sized {
  const PlacedRing* ring;
  Box box;
  double area_mm2;
};

std::string size_text(const Sized& one) {
  return fmt::format("{} ({:.0f} x {:.0f} mm)", one.ring->name, one.box.width_mm(), one.box.height_mm());
}

/// Largest first. A ring can only lie in a larger one.
std::vector<Sized> by_size(const std::vector<PlacedRing>& rings) {
  std::vector<Sized> sized;
  for (const PlacedRing& ring : rings)
    sized.push_back({&ring, box_of(ring.ring), std::abs(signed_area_mm2(ring.ring))});
  std::stable_sort(sized.begin(), sized.end(),
                   [](const Sized& a, const Sized& b) { return a.area_mm2 > b.area_mm2; });
  return sized;
}

/// Drawing programs keep a copy for the fill and one for the line; neither is a hole of the other.
void check_not_twice(const Sized& a, const Sized& b) {
  constexpr double same_mm = 1e-3;
  const auto near = [](double x, double y) { return std::abs(x - y) < same_mm; };
  if (!near(a.box.low.x_mm, b.box.low.x_mm) || !near(a.box.high.x_mm, b.box.high.x_mm) ||
      !near(a.box.low.y_mm, b.box.low.y_mm) || !near(a.box.high.y_mm, b.box.high.y_mm) ||
      !near(a.area_mm2, b.area_mm2))
    return;
  refuse(b.ring->place, fmt::format("{} draws the same shape as {}", size_text(b), size_text(a)),
         "remove one of the two");
}

/// A flaw is told with the ring it lies in.
void check_alone(const PlacedRing& ring) {
  Polygon::make(ring.ring, {}, ring.place);
}

}  // namespace

Polygon nest_rings(const std::vector<PlacedRing>& rings, const Place& file) {
  if (rings.empty())
    refuse(file, "there is no closed shape in the file", "draw the outline as one closed line");
  if (rings.size() > largest_ring_count)
    refuse(
        file,
        fmt::format("the file draws {} closed shapes; at most {} are read", rings.size(), largest_ring_count),
        "keep only the outline and its holes");
  for (const PlacedRing& ring : rings) check_alone(ring);
  const std::vector<Sized> sized = by_size(rings);
  const Sized& outer = sized.front();
  std::vector<Ring> holes;
  for (std::size_t i = 1; i < sized.size(); ++i) {
    const Sized& one = sized[i];
    const Point& probe = one.ring->ring.front();
    for (std::size_t j = 0; j < i; ++j) check_not_twice(sized[j], one);
    if (!box_holds(outer.box, one.box) || !ring_holds(outer.ring->ring, probe))
      refuse(one.ring->place,
             fmt::format("{} lies outside {}: the file draws more than one outline", size_text(one),
                         size_text(outer)),
             "keep one outline and its holes in a file, or put the outline into a layer named \"cut\"");
    for (std::size_t j = 1; j < i; ++j)
      if (box_holds(sized[j].box, one.box) && ring_holds(sized[j].ring->ring, probe))
        refuse(one.ring->place,
               fmt::format("{} lies inside the hole {}", size_text(one), size_text(sized[j])),
               "a piece inside a hole falls out; remove it");
    holes.push_back(one.ring->ring);
  }
  return Polygon::make(outer.ring->ring, std::move(holes), outer.ring->place);
}

}  // namespace warmsheet::outline
