// SPDX-License-Identifier: MIT
#include "outline/geos.h"

#include <fmt/format.h>
#include <geos_c.h>

#include <array>
#include <cmath>
#include <memory>
#include <stdexcept>
#include <string_view>
#include <utility>

namespace warmsheet::outline::geos {
namespace {

/// The library's handle and its last complaint, one for each thread.
class Handle {
 public:
  Handle() : handle_(GEOS_init_r()) {
    GEOSContext_setErrorMessageHandler_r(
        handle_, [](const char* message, void* self) { static_cast<Handle*>(self)->complaint_ = message; },
        this);
  }
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;
  ~Handle() { GEOS_finish_r(handle_); }

  static Handle& mine() {
    thread_local Handle handle;
    return handle;
  }
  [[nodiscard]] GEOSContextHandle_t get() const { return handle_; }
  [[nodiscard]] const std::string& complaint() const { return complaint_; }

 private:
  GEOSContextHandle_t handle_;
  std::string complaint_;
};

GEOSContextHandle_t handle() {
  return Handle::mine().get();
}

struct Destroy {
  void operator()(GEOSGeometry* geometry) const { GEOSGeom_destroy_r(handle(), geometry); }
};
using Geometry = std::unique_ptr<GEOSGeometry, Destroy>;

[[noreturn]] void fail(std::string_view task) {
  throw std::logic_error(fmt::format("geometry: {}: {}", task, Handle::mine().complaint()));
}

Geometry hold(GEOSGeometry* geometry, std::string_view task) {
  if (geometry == nullptr) fail(task);
  return Geometry(geometry);
}

/// The library's predicates answer 0, 1, or 2 for an error.
bool answer(char reply, std::string_view task) {
  constexpr char error_reply = 2;
  if (reply == error_reply) fail(task);
  return reply == 1;
}

Geometry closed_line(const Ring& ring) {
  const auto size = static_cast<unsigned>(ring.size()) + 1;
  GEOSCoordSequence* points = GEOSCoordSeq_create_r(handle(), size, 2);
  if (points == nullptr) fail("ring");
  for (unsigned i = 0; i < size; ++i) {
    const Point& point = ring[i % ring.size()];
    GEOSCoordSeq_setXY_r(handle(), points, i, point.x_mm, point.y_mm);
  }
  return hold(GEOSGeom_createLinearRing_r(handle(), points), "ring");
}

Geometry area_of(const Ring& outer, const std::vector<Ring>& holes) {
  Geometry shell = closed_line(outer);
  std::vector<Geometry> kept;
  for (const Ring& hole : holes) kept.push_back(closed_line(hole));
  std::vector<GEOSGeometry*> given;  // the polygon takes them over
  for (Geometry& hole : kept) given.push_back(hole.release());
  return hold(
      GEOSGeom_createPolygon_r(handle(), shell.release(), given.data(), static_cast<unsigned>(given.size())),
      "polygon");
}

Geometry area_of(const Polygon& shape) {
  return area_of(shape.outer(), shape.holes());
}

Ring ring_of(const GEOSGeometry* line, bool counter_clockwise) {
  const GEOSCoordSequence* points = GEOSGeom_getCoordSeq_r(handle(), line);
  unsigned size = 0;
  GEOSCoordSeq_getSize_r(handle(), points, &size);
  Ring ring;
  for (unsigned i = 0; i + 1 < size; ++i) {
    Point point;
    GEOSCoordSeq_getXY_r(handle(), points, i, &point.x_mm, &point.y_mm);
    ring.push_back(point);
  }
  if ((signed_area_mm2(ring) > 0.0) != counter_clockwise) ring = {ring.rbegin(), ring.rend()};
  return ring;
}

Piece piece_of(const GEOSGeometry* polygon) {
  Piece piece{ring_of(GEOSGetExteriorRing_r(handle(), polygon), true), {}};
  const int count = GEOSGetNumInteriorRings_r(handle(), polygon);
  for (int i = 0; i < count; ++i)
    piece.holes.push_back(ring_of(GEOSGetInteriorRingN_r(handle(), polygon, i), false));
  return piece;
}

/// The areas in a result; its points and lines have no width and are left out.
void collect(const GEOSGeometry* geometry, std::vector<Piece>& pieces) {
  if (GEOSGeomTypeId_r(handle(), geometry) == GEOS_POLYGON) {
    if (!answer(GEOSisEmpty_r(handle(), geometry), "parts")) pieces.push_back(piece_of(geometry));
    return;
  }
  if (GEOSGeomTypeId_r(handle(), geometry) < GEOS_MULTIPOINT) return;
  const int count = GEOSGetNumGeometries_r(handle(), geometry);
  for (int i = 0; i < count; ++i) collect(GEOSGetGeometryN_r(handle(), geometry, i), pieces);
}

std::vector<Piece> pieces_of(const Geometry& geometry) {
  std::vector<Piece> pieces;
  collect(geometry.get(), pieces);
  return pieces;
}

Geometry open_line(const Path& path) {
  GEOSCoordSequence* points = GEOSCoordSeq_create_r(handle(), static_cast<unsigned>(path.size()), 2);
  if (points == nullptr) fail("line");
  for (unsigned i = 0; i < path.size(); ++i)
    GEOSCoordSeq_setXY_r(handle(), points, i, path[i].x_mm, path[i].y_mm);
  return hold(GEOSGeom_createLineString_r(handle(), points), "line");
}

void collect_lines(const GEOSGeometry* geometry, std::vector<Path>& paths) {
  if (GEOSGeomTypeId_r(handle(), geometry) == GEOS_LINESTRING) {
    const GEOSCoordSequence* points = GEOSGeom_getCoordSeq_r(handle(), geometry);
    unsigned size = 0;
    GEOSCoordSeq_getSize_r(handle(), points, &size);
    Path path(size);
    for (unsigned i = 0; i < size; ++i)
      GEOSCoordSeq_getXY_r(handle(), points, i, &path[i].x_mm, &path[i].y_mm);
    if (size > 1) paths.push_back(std::move(path));
    return;
  }
  if (GEOSGeomTypeId_r(handle(), geometry) < GEOS_MULTIPOINT) return;
  const int count = GEOSGetNumGeometries_r(handle(), geometry);
  for (int i = 0; i < count; ++i) collect_lines(GEOSGetGeometryN_r(handle(), geometry, i), paths);
}

/// The library's own words (its TopologyValidationError list), said for somebody who drew a pattern.
std::string reason_in_words(std::string_view reason) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 8> words{{
      {"Ring Self-intersection", "the edge touches or crosses itself"},
      {"Self-intersection", "the edge crosses itself or another edge"},
      {"Hole lies outside shell", "a hole lies outside the outline"},
      {"Holes are nested", "a hole lies inside another hole"},
      {"Duplicate Rings", "two rings are the same"},
      {"Interior is disconnected", "holes cut the shape into parts"},
      {"Too few points in geometry component", "a ring has fewer than three corners"},
      {"Nested shells", "one outline lies inside another"},
  }};
  for (const auto& [theirs, ours] : words)
    if (reason == theirs) return std::string(ours);
  return std::string(reason);
}

std::optional<Flaw> topology_flaw(const GEOSGeometry* geometry) {
  char* reason = nullptr;
  GEOSGeometry* location = nullptr;
  if (answer(GEOSisValidDetail_r(handle(), geometry, 0, &reason, &location), "validity")) return std::nullopt;
  Flaw flaw{reason_in_words(reason), {}};
  GEOSFree_r(handle(), reason);
  const Geometry at(location);
  if (at != nullptr && !answer(GEOSisEmpty_r(handle(), at.get()), "place of the flaw")) {
    GEOSGeomGetX_r(handle(), at.get(), &flaw.at.x_mm);
    GEOSGeomGetY_r(handle(), at.get(), &flaw.at.y_mm);
  }
  return flaw;
}

/// Valid areas may still have rings that meet in a point, where no material is left.
std::optional<Flaw> touching_flaw(const Ring& outer, const std::vector<Ring>& holes) {
  std::vector<Geometry> lines;
  lines.push_back(closed_line(outer));
  for (const Ring& hole : holes) lines.push_back(closed_line(hole));
  for (std::size_t a = 0; a < lines.size(); ++a)
    for (std::size_t b = a + 1; b < lines.size(); ++b) {
      if (!answer(GEOSIntersects_r(handle(), lines[a].get(), lines[b].get()), "touching")) continue;
      const Geometry common = hold(GEOSIntersection_r(handle(), lines[a].get(), lines[b].get()), "touching");
      const Geometry point = hold(GEOSPointOnSurface_r(handle(), common.get()), "touching");
      Flaw flaw{a == 0 ? "a hole touches the edge of the outline" : "two holes touch", {}};
      GEOSGeomGetX_r(handle(), point.get(), &flaw.at.x_mm);
      GEOSGeomGetY_r(handle(), point.get(), &flaw.at.y_mm);
      return flaw;
    }
  return std::nullopt;
}

double measured(int reply, double value, std::string_view task) {
  if (reply != 1) fail(task);
  return value;
}

}  // namespace

std::optional<Flaw> find_flaw(const Ring& outer, const std::vector<Ring>& holes) {
  const Geometry area = area_of(outer, holes);
  if (auto flaw = topology_flaw(area.get())) return flaw;
  return touching_flaw(outer, holes);
}

double Piece::area_mm2() const {
  double area = signed_area_mm2(outer);
  for (const Ring& hole : holes) area += signed_area_mm2(hole);
  return area;
}

std::vector<Piece> offset(const Polygon& shape, double distance_mm, int quarter_steps) {
  return pieces_of(hold(GEOSBuffer_r(handle(), area_of(shape).get(), distance_mm, quarter_steps), "offset"));
}

std::vector<Piece> unite(const std::vector<Polygon>& shapes) {
  std::vector<GEOSGeometry*> given;
  for (const Polygon& shape : shapes) given.push_back(area_of(shape).release());
  const Geometry all = hold(GEOSGeom_createCollection_r(handle(), GEOS_GEOMETRYCOLLECTION, given.data(),
                                                        static_cast<unsigned>(given.size())),
                            "union");
  return pieces_of(hold(GEOSUnaryUnion_r(handle(), all.get()), "union"));
}

std::vector<Piece> subtract(const Polygon& from, const Polygon& what) {
  return pieces_of(hold(GEOSDifference_r(handle(), area_of(from).get(), area_of(what).get()), "difference"));
}

std::vector<Piece> intersect(const Polygon& a, const Polygon& b) {
  return pieces_of(hold(GEOSIntersection_r(handle(), area_of(a).get(), area_of(b).get()), "intersection"));
}

std::vector<Path> parts_on(const Polygon& shape, const Path& line) {
  std::vector<Path> paths;
  if (line.size() < 2) return paths;
  collect_lines(
      hold(GEOSIntersection_r(handle(), open_line(line).get(), area_of(shape).get()), "parts of a line")
          .get(),
      paths);
  return paths;
}

double overlap_mm2(const Polygon& a, const Polygon& b) {
  double area = 0.0;
  for (const Piece& piece : intersect(a, b)) area += piece.area_mm2();
  return area;
}

bool contains(const Polygon& outer, const Polygon& inner) {
  return answer(GEOSCovers_r(handle(), area_of(outer).get(), area_of(inner).get()), "containment");
}

double distance_mm(const Polygon& a, const Polygon& b) {
  double distance = 0.0;
  const int reply = GEOSDistance_r(handle(), area_of(a).get(), area_of(b).get(), &distance);
  return measured(reply, distance, "distance");
}

double distance_mm(const Ring& a, const Ring& b) {
  double distance = 0.0;
  const int reply = GEOSDistance_r(handle(), closed_line(a).get(), closed_line(b).get(), &distance);
  return measured(reply, distance, "distance");
}

}  // namespace warmsheet::outline::geos
