// SPDX-License-Identifier: MIT
// Reads the outline from an ASCII DXF drawing: lines, arcs, circles, ellipses and polylines with bulges,
// joined end to end. What would need more than this (splines, blocks) is refused by name rather than left out
// silently.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/dimension.h"
#include "base/text.h"
#include "outline/chain.h"
#include "outline/dxf_file.h"
#include "outline/outline.h"
#include "outline/readers.h"
#include "outline/refuse.h"

namespace warmsheet::outline {
namespace {

constexpr double full_turn = 2.0 * std::numbers::pi;

/// Entities that cannot be an edge; they are passed over.
constexpr std::array no_edges{
    std::string_view("TEXT"),      std::string_view("MTEXT"),    std::string_view("DIMENSION"),
    std::string_view("POINT"),     std::string_view("HATCH"),    std::string_view("LEADER"),
    std::string_view("ATTDEF"),    std::string_view("VIEWPORT"), std::string_view("MULTILEADER"),
    std::string_view("TOLERANCE"), std::string_view("IMAGE")};

bool same_layer(std::string_view a, std::string_view b) {  // layer names do not know case
  const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [&](char x, char y) { return lower(x) == lower(y); });
}

struct BulgedVertex {
  Point at;
  double bulge = 0.0;  // tangent of a quarter of the arc's angle to the next vertex, positive to the left
};

class DxfReader {
 public:
  DxfReader(const DxfFile& dxf, const std::string& file, const ReadOptions& options)
      : dxf_(dxf), file_(file), options_(options), budget_(Place{file, 0, 0}) {
    const double mm = unit_mm();
    to_mm_ = {mm, 0.0, 0.0, mm, 0.0, 0.0};
  }

  std::vector<PlacedRing> read() {
    const auto layer = picked_layer();
    for (std::size_t i = 0; i < dxf_.entities.size(); ++i) {
      const DxfEntity& entity = dxf_.entities[i];
      const bool in_paper_space = entity.number(67, 0.0) == 1.0;
      if (in_paper_space || (layer ? !same_layer(entity.text(8), *layer) : is_hidden(entity))) continue;
      draw(entity, i);
    }
    return join_strokes(std::move(strokes_), options_.tolerance.si * mm_per_m);
  }

 private:
  [[nodiscard]] double unit_mm() const {
    if (dxf_.unit_mm && options_.user_unit &&
        std::abs(*dxf_.unit_mm - options_.user_unit->si * mm_per_m) > 1e-9)
      refuse({file_, 0, 0}, "the unit given is not the one that the drawing states ($INSUNITS)",
             "leave the unit out");
    if (dxf_.unit_mm) return *dxf_.unit_mm;
    if (options_.user_unit) return options_.user_unit->si * mm_per_m;
    refuse({file_, 0, 0}, "the drawing does not state its unit ($INSUNITS)",
           fmt::format("give the length of one drawing unit: {}, or \"1 in\"",
                       setting(options_, "unit", "1 mm")));
  }

  [[nodiscard]] std::optional<std::string_view> picked_layer() const {
    const std::string_view wanted = options_.layer ? std::string_view(*options_.layer) : cut_layer;
    const bool found = std::any_of(dxf_.entities.begin(), dxf_.entities.end(), [&](const DxfEntity& entity) {
      return same_layer(entity.text(8), wanted);
    });
    if (found) return wanted;
    if (options_.layer)
      refuse({file_, 0, 0}, fmt::format("no entity lies in the layer '{}'", clip(wanted, 40)),
             "look up the layer's name");
    return std::nullopt;
  }

  /// Invisible itself, or in a layer that is off (negative colour) or frozen: nobody saw it when the file was
  /// made.
  [[nodiscard]] bool is_hidden(const DxfEntity& entity) const {
    constexpr int frozen = 1;
    return entity.number(60, 0.0) == 1.0 ||
           std::any_of(dxf_.layers.begin(), dxf_.layers.end(), [&](const DxfEntity& layer) {
             return same_layer(layer.text(2), entity.text(8)) &&
                    (layer.number(62, 0.0) < 0.0 || layer.flag(frozen));
           });
  }

  void draw(const DxfEntity& entity, std::size_t index) {
    const std::string_view name = entity.name;
    if (name == "VERTEX" || name == "SEQEND") return;  // taken with their POLYLINE
    if (std::find(no_edges.begin(), no_edges.end(), name) != no_edges.end()) return;
    if (entity.number(230, 1.0) < 0.0)
      refuse(entity.place, fmt::format("this {} is drawn from its back (extrusion -z)", name),
             "flatten the drawing");
    Pen pen(to_mm_, options_.tolerance.si * mm_per_m, budget_);
    if (name == "LINE") {
      pen.move_to({entity.number(10), entity.number(20)});
      pen.line_to({entity.number(11), entity.number(21)});
    } else if (name == "ARC" || name == "CIRCLE") {
      arc(entity, pen);
    } else if (name == "ELLIPSE") {
      ellipse(entity, pen);
    } else if (name == "LWPOLYLINE") {
      polyline(lightweight(entity), is_closed(entity), pen);
    } else if (name == "POLYLINE") {
      polyline(heavyweight(entity, index), is_closed(entity), pen);
    } else {
      refuse(entity.place, fmt::format("{} is not read", clip(name, 40)),
             "turn it into polylines or lines and arcs in the drawing program (explode blocks, convert "
             "splines)");
    }
    pen.lift();
    for (const Stroke& stroke : pen.strokes()) strokes_.push_back({stroke, entity.place, std::string(name)});
  }

  static bool is_closed(const DxfEntity& entity) { return entity.flag(1); }

  static void arc(const DxfEntity& entity, Pen& pen) {
    const Point centre{entity.number(10), entity.number(20)};
    const double radius = entity.number(40);
    if (radius <= 0.0) refuse(entity.place, fmt::format("this {} has no radius", entity.name), "remove it");
    const bool whole = entity.name == "CIRCLE";
    const double start = whole ? 0.0 : rad_of_deg(entity.number(50));
    double sweep = whole ? full_turn : std::fmod(rad_of_deg(entity.number(51)) - start, full_turn);
    if (sweep <= 0.0) sweep += full_turn;  // arcs run counter-clockwise
    part(centre, radius, radius, 0.0, start, sweep, whole, pen);
  }

  static void ellipse(const DxfEntity& entity, Pen& pen) {
    const Point centre{entity.number(10), entity.number(20)};
    const double major = std::hypot(entity.number(11), entity.number(21));
    const double tilt = std::atan2(entity.number(21), entity.number(11));
    const double minor = major * entity.number(40);
    const double start = entity.number(41, 0.0);
    double sweep = entity.number(42, full_turn) - start;
    if (sweep <= 0.0) sweep += full_turn;
    if (major <= 0.0 || minor <= 0.0) refuse(entity.place, "this ELLIPSE has no size", "remove it");
    constexpr double nearly = 1e-6;
    part(centre, major, minor, tilt, start, sweep, sweep >= full_turn - nearly, pen);
  }

  static void part(const Point& centre, double rx, double ry, double tilt, double start, double sweep,
                   bool whole, Pen& pen) {
    const Point on{rx * std::cos(start), ry * std::sin(start)};
    pen.move_to({centre.x_mm + std::cos(tilt) * on.x_mm - std::sin(tilt) * on.y_mm,
                 centre.y_mm + std::sin(tilt) * on.x_mm + std::cos(tilt) * on.y_mm});
    pen.ellipse_part(centre, rx, ry, tilt, start, sweep);
    if (whole) pen.close();
  }

  [[nodiscard]] std::vector<BulgedVertex> lightweight(const DxfEntity& entity) const {
    std::vector<BulgedVertex> vertices;
    for (const DxfGroup& group : entity.groups) {
      if (group.code == 10) vertices.push_back({{dxf_number(group, file_), 0.0}, 0.0});
      if (vertices.empty()) continue;
      if (group.code == 20) vertices.back().at.y_mm = dxf_number(group, file_);
      if (group.code == 42) vertices.back().bulge = dxf_number(group, file_);
    }
    return vertices;
  }

  /// The vertices follow as entities of their own.
  [[nodiscard]] std::vector<BulgedVertex> heavyweight(const DxfEntity& entity, std::size_t index) const {
    constexpr int surface = 16 | 64;  // mesh, polyface
    constexpr int control_point = 16;
    constexpr double same_height = 1e-6;
    std::vector<BulgedVertex> vertices;
    std::optional<double> z;
    for (std::size_t i = index + 1; i < dxf_.entities.size() && dxf_.entities[i].name == "VERTEX"; ++i) {
      const DxfEntity& vertex = dxf_.entities[i];
      if (vertex.flag(control_point)) continue;
      if (!z) z = vertex.number(30, 0.0);
      if (entity.flag(surface) || std::abs(vertex.number(30, 0.0) - *z) > same_height)
        refuse(entity.place, "this POLYLINE is not flat", "draw it in the plane");
      vertices.push_back({{vertex.number(10), vertex.number(20)}, vertex.number(42, 0.0)});
    }
    return vertices;
  }

  static void polyline(const std::vector<BulgedVertex>& vertices, bool closed, Pen& pen) {
    if (vertices.empty()) return;
    pen.move_to(vertices.front().at);
    const std::size_t edges = closed ? vertices.size() : vertices.size() - 1;
    for (std::size_t i = 0; i < edges; ++i)
      bulge_to(vertices[i], vertices[(i + 1) % vertices.size()].at, pen);
    if (closed) pen.close();
  }

  static void bulge_to(const BulgedVertex& from, const Point& to, Pen& pen) {
    const double chord = std::hypot(to.x_mm - from.at.x_mm, to.y_mm - from.at.y_mm);
    constexpr double flat = 1e-9;
    if (std::abs(from.bulge) < flat || chord == 0.0) return pen.line_to(to);
    const double angle = 4.0 * std::atan(from.bulge);
    const double radius = 0.5 * chord / std::abs(std::sin(0.5 * angle));
    pen.arc_to(radius, radius, 0.0, std::abs(angle) > std::numbers::pi, angle > 0.0, to);
  }

  const DxfFile& dxf_;
  std::string file_;
  ReadOptions options_;
  Affine to_mm_;
  PointBudget budget_;
  std::vector<PlacedStroke> strokes_;
};

}  // namespace

Outline read_dxf(std::string_view text, const std::string& file, const ReadOptions& options) {
  check_options(options);
  const DxfFile dxf = parse_dxf(without_byte_order_mark(text), file);
  return traced(nest_rings(DxfReader(dxf, file, options).read(), {file, 0, 0}), file, options.tolerance);
}

}  // namespace warmsheet::outline
