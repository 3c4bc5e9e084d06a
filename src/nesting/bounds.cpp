// SPDX-License-Identifier: MIT
#include "nesting/bounds.h"

#include <numbers>
#include <optional>
#include <utility>

#include "nesting/form.h"
#include "nesting/poles.h"
#include "outline/geos.h"

namespace warmsheet::nesting {
namespace {

constexpr double rounding = 1e-9;  // an order that fills its sheets exactly needs no further one

/// The box that holds every sheet offered, less margins; and the spacing.
struct Frame {
  double length = 0.0;
  double height = 0.0;
  double spacing = 0.0;
};

struct Bounding {
  double claim = 0.0;
  double radius = 0.0;         // of the inscribed circle
  double row_width = 0.0;      // of a rectangle more than half as high as the frame, in every turn; 0: none
  double column_height = 0.0;  // of a rectangle more than half as long as the frame, in every turn; 0: none
};

/// The least over all allowed turns; 0 where turns are not listed. Flips change no width.
double least_inscribed(const Piece& piece, double height, double quarter_deg) {
  if (piece.rotations.free) return 0.0;
  double least = std::numeric_limits<double>::infinity();
  for (const double angle : piece.rotations.angles_deg)
    least = std::min(least,
                     inscribed_width(turned(region_of(piece.shape), turn_by(angle + quarter_deg)), height));
  return least;
}

Bounding bounding_of(const Piece& piece, const Frame& frame) {
  constexpr double quarter_deg = 90.0;
  // Two rectangles that both reach over the middle line lie beside each other on it. Two that do not may lie
  // one high and one low, and keep their distance slantwise.
  const double half_height = 0.5 * frame.height * (1.0 + rounding);
  const double half_length = 0.5 * frame.length * (1.0 + rounding);
  return {claimed_mm2(piece.shape, frame.spacing), inscribed_circle(region_of(piece.shape)).radius,
          least_inscribed(piece, half_height, 0.0), least_inscribed(piece, half_length, quarter_deg)};
}

/// The centres of two inscribed circles cannot be far enough apart on any sheet.
bool exclude_each_other(const Bounding& a, const Bounding& b, const Frame& frame) {
  const double apart = a.radius + b.radius;
  const double dx = std::max(0.0, frame.length - apart);
  const double dy = std::max(0.0, frame.height - apart);
  return std::hypot(dx, dy) < (apart + frame.spacing) * (1.0 - rounding);
}

/// Pieces no two of which share a sheet: from the largest circle on, while each excludes all before it.
int exclusive_pieces(std::vector<Bounding> pieces, const Frame& frame) {
  std::sort(pieces.begin(), pieces.end(),
            [](const Bounding& a, const Bounding& b) { return a.radius > b.radius; });
  std::size_t count = pieces.empty() ? 0 : 1;
  // Sorted, so the newest excludes all before it as soon as it excludes the one just before.
  while (count < pieces.size() && exclude_each_other(pieces[count - 1], pieces[count], frame)) ++count;
  return static_cast<int>(count);
}

int row_bound(const std::vector<Bounding>& pieces, double Bounding::*size, double capacity, double spacing) {
  std::vector<double> sizes;
  for (const Bounding& piece : pieces) {
    if (piece.*size > 0.0) sizes.push_back(piece.*size + spacing);
  }
  return one_dimensional_bound(std::move(sizes), capacity + spacing);
}

int area_bound(const Order& order, const std::vector<Bounding>& pieces) {
  double needed = 0.0;
  double largest = 0.0;
  for (const Bounding& piece : pieces) needed += piece.claim;
  for (const Stock& stock : order.stock) {
    const double room = capacity_mm2(stock.shape, order.spacing_mm, order.margin_mm);
    if (stock.offcut) {
      needed -= room * std::max(0, stock.count < 0 ? static_cast<int>(pieces.size()) : stock.count);
    } else {
      largest = std::max(largest, room);
    }
  }
  if (needed <= 0.0 || largest <= 0.0) return 0;
  return static_cast<int>(std::ceil(needed / largest - rounding));
}

/// The inside of a rectangle round the middle of one column, cut down by every edge that reaches between two
/// columns.
class InscribedSearch {
 public:
  InscribedSearch(const Region& region, double height) : region_(region), height_(height) {
    extent_ = extent_of(region.outer);
  }

  double widest() {
    double best = 0.0;
    for (int middle = 0; middle < columns; ++middle) {
      const std::optional<double> y = middle_of(at(middle + 0.5));
      if (!y) continue;
      for (int left = 0; left <= middle; ++left) {
        for (int right = columns; right > middle; --right) {
          const double width = at(right) - at(left);
          if (width <= best) break;
          if (room(at(left), at(right), *y) >= height_) best = width;
        }
      }
    }
    return best;
  }

 private:
  static constexpr int columns = 24;

  [[nodiscard]] double at(double column) const { return extent_.x0 + extent_.width() * column / columns; }

  template <typename Visit>
  void for_edges(const Visit& visit) const {
    const auto walk = [&](const Loop& loop) {
      for (std::size_t i = 0; i < loop.size(); ++i) visit(loop[i], loop[(i + 1) % loop.size()]);
    };
    walk(region_.outer);
    for (const Loop& hole : region_.holes) walk(hole);
  }

  static double y_at(Vec a, Vec b, double x) { return a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x); }

  /// The middle of the longest stretch inside on a vertical line.
  [[nodiscard]] std::optional<double> middle_of(double x) const {
    std::vector<double> crossings;
    for_edges([&](Vec a, Vec b) {
      if ((a.x > x) != (b.x > x)) crossings.push_back(y_at(a, b, x));
    });
    std::sort(crossings.begin(), crossings.end());
    std::optional<double> middle;
    double longest = 0.0;
    for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
      if (crossings[i + 1] - crossings[i] <= longest) continue;
      longest = crossings[i + 1] - crossings[i];
      middle = 0.5 * (crossings[i] + crossings[i + 1]);
    }
    return middle;
  }

  /// Height of the free rectangle round y between two columns; 0 if an edge runs through the middle.
  [[nodiscard]] double room(double left, double right, double y) const {
    double low = extent_.y0;
    double high = extent_.y1;
    for_edges([&](Vec a, Vec b) {
      if (a.x > b.x) std::swap(a, b);
      const double from = std::max(a.x, left);
      const double to = std::min(b.x, right);
      const bool upright = a.x == b.x;
      if (upright ? a.x <= left || a.x >= right : from >= to) return;
      const double y_from = upright ? a.y : y_at(a, b, from);
      const double y_to = upright ? b.y : y_at(a, b, to);
      const double bottom = std::min(y_from, y_to);
      const double top = std::max(y_from, y_to);
      if (top <= y) {
        low = std::max(low, top);
      } else if (bottom >= y) {
        high = std::min(high, bottom);
      } else {
        low = high;
      }
    });
    return high - low;
  }

  const Region& region_;
  double height_;
  Extent extent_;
};

}  // namespace

double claimed_mm2(const outline::Polygon& shape, double spacing_mm) {
  if (spacing_mm <= 0.0) return shape.area_mm2();
  double area = 0.0;
  for (const outline::geos::Piece& part : outline::geos::offset(shape, 0.5 * spacing_mm))
    area += part.area_mm2();
  return std::max(area, shape.area_mm2());
}

double capacity_mm2(const outline::Polygon& sheet, double spacing_mm, double margin_mm) {
  const double beyond = 0.5 * spacing_mm - margin_mm;  // half a gap may reach so far over the edge
  const outline::Box& box = sheet.box();
  const double by_box =
      std::max(0.0, box.width_mm() + 2.0 * beyond) * std::max(0.0, box.height_mm() + 2.0 * beyond);
  if (beyond <= 0.0) return std::min(by_box, sheet.area_mm2());
  // Steiner's formula, which a hole or a notch only lessens.
  return std::min(by_box, sheet.area_mm2() + beyond * (sheet.perimeter_mm() + std::numbers::pi * beyond));
}

double length_for(double claims_mm2, const Bin& bin, double spacing_mm) {
  const double beyond = spacing_mm - 2.0 * bin.margin_mm;
  return claims_mm2 / (bin.height_mm + beyond) - beyond;
}

double inscribed_width(const Region& region, double height) {
  return InscribedSearch(region, height).widest();
}

int one_dimensional_bound(std::vector<double> sizes, double capacity) {
  const double fits = capacity * (1.0 + rounding);
  std::sort(sizes.begin(), sizes.end());
  int best = 0;
  std::vector<double> thresholds{0.0};
  for (const double size : sizes) {
    if (size <= 0.5 * capacity) thresholds.push_back(size);
  }
  for (const double least : thresholds) {
    int alone = 0;
    int halves = 0;
    double room = 0.0;
    double small = 0.0;
    for (const double size : sizes) {
      if (size + least > fits) {
        ++alone;
      } else if (2.0 * size > fits) {
        ++halves;
        room += capacity - size;
      } else if (size >= least) {
        small += size;
      }
    }
    const double left = std::max(0.0, small - room);
    best = std::max(best, alone + halves + static_cast<int>(std::ceil(left / capacity - rounding)));
  }
  return best;
}

int sheets_bound(const Order& order, const Layout& layout) {
  Frame frame{0.0, 0.0, order.spacing_mm};
  int offcuts = 0;
  for (const Stock& stock : order.stock) {
    frame.length = std::max(frame.length, stock.shape.box().width_mm() - 2.0 * order.margin_mm);
    frame.height = std::max(frame.height, stock.shape.box().height_mm() - 2.0 * order.margin_mm);
    if (stock.offcut) offcuts += stock.count < 0 ? static_cast<int>(layout.placements.size()) : stock.count;
  }
  if (frame.length <= 0.0 || frame.height <= 0.0) return 0;
  std::vector<std::optional<Bounding>> known(order.pieces.size());
  std::vector<Bounding> pieces;
  for (const Placement& placement : layout.placements) {
    auto& bounding = known[placement.piece];
    if (!bounding) bounding = bounding_of(order.pieces[placement.piece], frame);
    pieces.push_back(*bounding);
  }
  // A kept offcut takes at most one of the pieces that exclude each other, and no more than one row.
  const int by_pairs = exclusive_pieces(pieces, frame) - offcuts;
  const int by_rows = row_bound(pieces, &Bounding::row_width, frame.length, frame.spacing) - offcuts;
  const int by_columns = row_bound(pieces, &Bounding::column_height, frame.height, frame.spacing) - offcuts;
  return std::max({0, area_bound(order, pieces), by_pairs, by_rows, by_columns});
}

}  // namespace warmsheet::nesting
