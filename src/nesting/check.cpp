// SPDX-License-Identifier: MIT
// The last word on a layout: the true outlines, placed, measured by the geometry library. Nothing of the
// search is used.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "nesting/nest.h"
#include "outline/geos.h"

namespace warmsheet::nesting {
namespace {

/// Rounding of coordinates; a thousandth of what a cutter can follow.
constexpr double tolerance_mm = 1e-5;

std::string label(const Order& order, const Placement& placement) {
  return fmt::format("{} copy {}", order.pieces[placement.piece].name, placement.copy + 1);
}

bool boxes_near(const outline::Box& a, const outline::Box& b, double gap) {
  return a.low.x_mm - b.high.x_mm < gap && b.low.x_mm - a.high.x_mm < gap && a.low.y_mm - b.high.y_mm < gap &&
         b.low.y_mm - a.high.y_mm < gap;
}

/// An overlap no deeper than the tolerance has at most this area.
double area_tolerance(const outline::Polygon& shape) {
  return tolerance_mm * shape.perimeter_mm();
}

bool inside_box(const outline::Box& inner, const outline::Box& outer, double by) {
  return inner.low.x_mm >= outer.low.x_mm + by && inner.low.y_mm >= outer.low.y_mm + by &&
         inner.high.x_mm <= outer.high.x_mm - by && inner.high.y_mm <= outer.high.y_mm - by;
}

bool is_box(const outline::Polygon& shape) {
  const double area = shape.box().width_mm() * shape.box().height_mm();
  return shape.holes().empty() && shape.outer().size() == 4 &&
         std::abs(shape.area_mm2() - area) <= tolerance_mm;
}

class Checker {
 public:
  Checker(const Order& order, const Layout& layout) : order_(order), layout_(layout) {}

  std::vector<std::string> run() {
    if (!references_hold()) return std::move(wrong_);
    count_copies();
    check_groups();
    check_fixed();
    return placements();
  }

  /// Only what lies where.
  std::vector<std::string> placements() {
    for (const Placement& placement : layout_.placements) shapes_.push_back(placed_shape(order_, placement));
    for (std::size_t i = 0; i < shapes_.size(); ++i) {
      check_inside(i);
      for (std::size_t k = 0; k < i; ++k) check_pair(k, i);
    }
    return std::move(wrong_);
  }

 private:
  bool references_hold() {
    for (const UsedSheet& sheet : layout_.sheets) {
      if (sheet.stock >= order_.stock.size()) wrong_.push_back("a sheet is of no stock that was given");
    }
    for (const Placement& placement : layout_.placements) {
      if (placement.piece >= order_.pieces.size() || placement.sheet >= layout_.sheets.size())
        wrong_.push_back("a placement names no piece or no sheet");
    }
    return wrong_.empty();
  }

  void count_copies() {
    std::set<std::pair<std::size_t, int>> seen;
    std::size_t asked = 0;
    for (const Piece& piece : order_.pieces) asked += static_cast<std::size_t>(piece.copies);
    for (const Placement& p : layout_.placements) {
      if (p.copy < 0 || p.copy >= order_.pieces[p.piece].copies)
        wrong_.push_back(label(order_, p) + " was not asked for");
      if (!seen.emplace(p.piece, p.copy).second) wrong_.push_back(label(order_, p) + " is placed twice");
    }
    if (layout_.placements.size() + layout_.unplaced.size() != asked)
      wrong_.push_back(fmt::format("{} pieces asked for, {} placed and {} named as not placed", asked,
                                   layout_.placements.size(), layout_.unplaced.size()));
    std::vector<int> used(order_.stock.size(), 0);
    for (const UsedSheet& sheet : layout_.sheets) ++used[sheet.stock];
    for (std::size_t i = 0; i < used.size(); ++i) {
      const Stock& stock = order_.stock[i];
      if (stock.count >= 0 && used[i] > stock.count)
        wrong_.push_back(fmt::format("{} of {} used, there are {}", used[i], stock.name, stock.count));
    }
  }

  void check_groups() {
    std::map<std::pair<std::string, int>, std::size_t> sheet_of;
    for (const Placement& p : layout_.placements) {
      const std::string& group = order_.pieces[p.piece].group;
      if (group.empty()) continue;
      const auto [it, is_new] = sheet_of.emplace(std::pair(group, p.copy), p.sheet);
      if (!is_new && it->second != p.sheet)
        wrong_.push_back(fmt::format("{} is not on the sheet of its group {}", label(order_, p), group));
    }
  }

  void check_fixed() {
    for (const Placement& fixed : order_.fixed) {
      const auto same =
          std::find_if(layout_.placements.begin(), layout_.placements.end(), [&](const Placement& p) {
            return p.piece == fixed.piece && p.copy == fixed.copy && p.move == fixed.move &&
                   p.angle_deg == fixed.angle_deg && p.flipped == fixed.flipped &&
                   layout_.sheets[p.sheet].stock == order_.fixed_sheets[fixed.sheet];
          });
      if (same == layout_.placements.end())
        wrong_.push_back(label(order_, fixed) + " was fixed and was moved");
    }
  }

  void check_inside(std::size_t index) {
    const Placement& placement = layout_.placements[index];
    const outline::Polygon& sheet = order_.stock[layout_.sheets[placement.sheet].stock].shape;
    const outline::Polygon& shape = shapes_[index];
    bool inside = inside_box(shape.box(), sheet.box(), order_.margin_mm - tolerance_mm);
    if (inside && !is_box(sheet)) inside = inside_outline(shape, sheet);
    for (const outline::Polygon& zone : order_.stock[layout_.sheets[placement.sheet].stock].spoilt) {
      if (!boxes_near(shape.box(), zone.box(), order_.margin_mm)) continue;
      if (outline::geos::overlap_mm2(shape, zone) > area_tolerance(shape) ||
          outline::geos::distance_mm(shape, zone) < order_.margin_mm - tolerance_mm)
        wrong_.push_back(label(order_, placement) + " lies on or too near a spoilt zone");
    }
    if (inside) return;
    wrong_.push_back(fmt::format("{} is not inside sheet {} less its margin", label(order_, placement),
                                 placement.sheet + 1));
  }

  [[nodiscard]] bool inside_outline(const outline::Polygon& shape, const outline::Polygon& sheet) const {
    double outside = 0.0;
    for (const outline::geos::Piece& piece : outline::geos::subtract(shape, sheet))
      outside += piece.area_mm2();
    if (outside > area_tolerance(shape)) return false;
    if (order_.margin_mm <= tolerance_mm) return true;
    const auto near = [&](const outline::Ring& edge) {
      return outline::geos::distance_mm(edge, shape.outer()) < order_.margin_mm - tolerance_mm;
    };
    if (near(sheet.outer())) return false;
    for (const outline::Ring& hole : sheet.holes()) {
      if (near(hole)) return false;
      for (const outline::Ring& ring : shape.holes()) {
        if (outline::geos::distance_mm(hole, ring) < order_.margin_mm - tolerance_mm) return false;
      }
    }
    return true;
  }

  void check_pair(std::size_t a, std::size_t b) {
    const Placement& pa = layout_.placements[a];
    const Placement& pb = layout_.placements[b];
    if (pa.sheet != pb.sheet || !boxes_near(shapes_[a].box(), shapes_[b].box(), order_.spacing_mm)) return;
    const std::string both = label(order_, pa) + " and " + label(order_, pb);
    const double overlap = outline::geos::overlap_mm2(shapes_[a], shapes_[b]);
    if (overlap > std::min(area_tolerance(shapes_[a]), area_tolerance(shapes_[b]))) {
      wrong_.push_back(fmt::format("{} overlap by {:.6g} mm2", both, overlap));
      return;
    }
    if (order_.spacing_mm <= tolerance_mm) return;
    const double apart = outline::geos::distance_mm(shapes_[a], shapes_[b]);
    if (apart < order_.spacing_mm - tolerance_mm)
      wrong_.push_back(
          fmt::format("{} are {:.6g} mm apart, {:.6g} mm asked for", both, apart, order_.spacing_mm));
  }

  const Order& order_;
  const Layout& layout_;
  std::vector<outline::Polygon> shapes_;
  std::vector<std::string> wrong_;
};

}  // namespace

outline::Polygon placed_shape(const Order& order, const Placement& placement) {
  const outline::Polygon& shape = order.pieces[placement.piece].shape;
  return (placement.flipped ? shape.mirrored() : shape).placed(placement.angle_deg, placement.move);
}

std::vector<std::string> check_placements(const Order& order, const Layout& layout) {
  return Checker(order, layout).placements();
}

std::vector<std::string> check(const Order& order, const Layout& layout) {
  return Checker(order, layout).run();
}

}  // namespace warmsheet::nesting
