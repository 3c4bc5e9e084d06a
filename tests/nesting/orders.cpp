// SPDX-License-Identifier: MIT
#include "nesting/orders.h"

#include <fmt/format.h>
#include <geos_c.h>

#include <cmath>
#include <memory>
#include <numbers>
#include <random>
#include <utility>

namespace warmsheet::testing {
namespace {

using outline::Point;
using outline::Polygon;
using outline::Ring;

/// Rounding of millimetres; a layout with a deeper overlap is wrong.
constexpr double tolerance_mm = 2e-5;

class Geos {
 public:
  Geos() : handle_(GEOS_init_r()) {}
  Geos(const Geos&) = delete;
  Geos& operator=(const Geos&) = delete;
  ~Geos() { GEOS_finish_r(handle_); }

  using Shape = std::shared_ptr<GEOSGeometry>;

  Shape shape(const Polygon& polygon, double angle_deg, bool flipped, Point move) {
    std::vector<GEOSGeometry*> holes;
    for (const Ring& hole : polygon.holes()) holes.push_back(ring(hole, angle_deg, flipped, move));
    return held(GEOSGeom_createPolygon_r(handle_, ring(polygon.outer(), angle_deg, flipped, move),
                                         holes.data(), static_cast<unsigned>(holes.size())));
  }

  double overlap(const Shape& a, const Shape& b) {
    return area(held(GEOSIntersection_r(handle_, a.get(), b.get())));
  }
  double outside(const Shape& a, const Shape& b) {
    return area(held(GEOSDifference_r(handle_, a.get(), b.get())));
  }
  double distance(const Shape& a, const Shape& b) {
    double d = 0.0;
    GEOSDistance_r(handle_, a.get(), b.get(), &d);
    return d;
  }
  Shape boundary(const Shape& a) { return held(GEOSBoundary_r(handle_, a.get())); }
  double area(const Shape& a) {
    double value = 0.0;
    GEOSArea_r(handle_, a.get(), &value);
    return value;
  }
  double perimeter(const Shape& a) {
    double value = 0.0;
    GEOSLength_r(handle_, a.get(), &value);
    return value;
  }

 private:
  Shape held(GEOSGeometry* g) {
    return {g, [handle = handle_](GEOSGeometry* geometry) { GEOSGeom_destroy_r(handle, geometry); }};
  }

  GEOSGeometry* ring(const Ring& points, double angle_deg, bool flipped, Point move) {
    const auto count = static_cast<unsigned>(points.size());
    GEOSCoordSequence* sequence = GEOSCoordSeq_create_r(handle_, count + 1, 2);
    const double angle = angle_deg * std::numbers::pi / 180.0;
    for (unsigned i = 0; i <= count; ++i) {
      const Point& p = points[i % count];
      const double x = flipped ? -p.x_mm : p.x_mm;
      GEOSCoordSeq_setXY_r(handle_, sequence, i, std::cos(angle) * x - std::sin(angle) * p.y_mm + move.x_mm,
                           std::sin(angle) * x + std::cos(angle) * p.y_mm + move.y_mm);
    }
    return GEOSGeom_createLinearRing_r(handle_, sequence);
  }

  GEOSContextHandle_t handle_;
};

}  // namespace

Polygon rectangle(double width_mm, double height_mm) {
  return polygon({{0, 0}, {width_mm, 0}, {width_mm, height_mm}, {0, height_mm}});
}

Polygon polygon(std::vector<Point> outer, std::vector<std::vector<Point>> holes) {
  return Polygon::make(std::move(outer), std::move(holes), {});
}

Polygon random_outline(unsigned seed, int corners, bool hole) {
  std::mt19937 engine(seed);
  const auto between = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(engine()) / static_cast<double>(std::mt19937::max());
  };
  Ring outer;
  Ring inner;
  for (int k = 0; k < corners; ++k) {
    const double angle = 2.0 * std::numbers::pi * (k + between(-0.3, 0.3)) / corners;
    const double radius = between(20.0, 60.0);
    outer.push_back({radius * std::cos(angle), radius * std::sin(angle)});
  }
  // Half the inscribed circle of a ring whose corners are all at least 20 mm out and at most 1.6 steps apart.
  const double clear = 20.0 * std::cos(0.8 * 2.0 * std::numbers::pi / corners);
  for (int k = 0; k < 7; ++k) {
    const double angle = 2.0 * std::numbers::pi * k / 7;
    inner.push_back({0.5 * clear * std::cos(angle), 0.5 * clear * std::sin(angle)});
  }
  if (!hole) return polygon(outer);
  return polygon(outer, {inner});
}

nesting::Piece piece(std::string name, Polygon shape, int copies) {
  return {std::move(name), std::move(shape), copies, {}, false};
}

nesting::Stock sheet(double width_mm, double height_mm) {
  return {fmt::format("sheet {} x {}", width_mm, height_mm), rectangle(width_mm, height_mm), -1, 1.0, false};
}

nesting::Stock offcut(Polygon shape) {
  return {"offcut", std::move(shape), 1, 0.0, true};
}

std::vector<std::string> geos_complaints(const nesting::Order& order, const nesting::Layout& layout) {
  Geos geos;
  std::vector<std::string> complaints;
  std::vector<Geos::Shape> shapes;
  for (const nesting::Placement& p : layout.placements) {
    const Polygon& polygon = order.pieces[p.piece].shape;
    shapes.push_back(geos.shape(polygon, p.angle_deg, p.flipped, p.move));
    const Polygon& sheet_shape = order.stock[layout.sheets[p.sheet].stock].shape;
    const Geos::Shape sheet = geos.shape(sheet_shape, 0.0, false, {});
    const double outside = geos.outside(shapes.back(), sheet);
    if (outside > tolerance_mm * geos.perimeter(shapes.back()))
      complaints.push_back(fmt::format("piece {} lies {} mm2 outside", p.piece, outside));
    const double to_edge = geos.distance(shapes.back(), geos.boundary(sheet));
    if (to_edge < order.margin_mm - tolerance_mm)
      complaints.push_back(fmt::format("piece {} is {} mm from the edge", p.piece, to_edge));
  }
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      if (layout.placements[i].sheet != layout.placements[k].sheet) continue;
      const double overlap = geos.overlap(shapes[i], shapes[k]);
      if (overlap > tolerance_mm * geos.perimeter(shapes[i]))
        complaints.push_back(fmt::format("placements {} and {} overlap by {} mm2", i, k, overlap));
      const double apart = geos.distance(shapes[i], shapes[k]);
      if (apart < order.spacing_mm - tolerance_mm)
        complaints.push_back(fmt::format("placements {} and {} are {} mm apart", i, k, apart));
    }
  }
  return complaints;
}

}  // namespace warmsheet::testing
