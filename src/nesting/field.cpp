// SPDX-License-Identifier: MIT
#include "nesting/field.h"

#include <memory>
#include <utility>

#include "nesting/convex.h"

namespace warmsheet::nesting {
namespace {

constexpr std::uint32_t none = 0xffffffffU;

/// The stretch of a horizontal line that lies inside a convex loop; empty if low > high.
struct Stretch {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  void take(double x) {
    low = std::min(low, x);
    high = std::max(high, x);
  }
};

std::vector<Loop> contact_loops(const Solid& a, const Solid& b, Turn turn) {
  std::vector<Loop> turned = *b.parts;
  for (Loop& part : turned) {
    for (Vec& v : part) v = turn(v);
  }
  std::vector<Loop> loops;
  loops.reserve(a.parts->size() * turned.size());
  for (const Loop& part_a : *a.parts) {
    for (const Loop& part_b : turned) loops.push_back(contact_loop(part_a, part_b));
  }
  return loops;
}

}  // namespace

class FieldBuilder {
 public:
  FieldBuilder(PairField& field, const Solid& a, const Solid& b, Turn turn, int cells_along)
      : field_(field), loops_(contact_loops(a, b, turn)) {
    lay_grid(cells_along);
    for (const std::size_t loop : largest_first()) mark(loops_[loop]);
    write_cells();
  }

 private:
  using Plane = PairField::Plane;

  struct Entry {  // one part cutting a mixed cell
    std::uint32_t next;
    std::uint32_t first_plane;
    std::uint32_t plane_count;
  };

  [[nodiscard]] std::vector<std::size_t> largest_first() const {
    std::vector<std::pair<double, std::size_t>> sizes;
    for (std::size_t i = 0; i < loops_.size(); ++i) sizes.emplace_back(-signed_area(loops_[i]), i);
    std::sort(sizes.begin(), sizes.end());
    std::vector<std::size_t> order;
    for (const auto& [size, i] : sizes) order.push_back(i);
    return order;
  }

  void lay_grid(int cells_along) {
    Extent extent;
    for (const Loop& loop : loops_) {
      for (const Vec p : loop) extent.take(p);
    }
    const double size = std::max(extent.width(), extent.height()) / cells_along;
    columns_ = static_cast<std::size_t>(std::max(1.0, std::ceil(extent.width() / size)));
    rows_ = static_cast<std::size_t>(std::max(1.0, std::ceil(extent.height() / size)));
    cell_ = {extent.width() / static_cast<double>(columns_), extent.height() / static_cast<double>(rows_)};
    field_.origin_ = {extent.x0, extent.y0};
    field_.per_cell_ = {1.0 / cell_.x, 1.0 / cell_.y};
    field_.columns_ = static_cast<double>(columns_);
    field_.rows_ = static_cast<double>(rows_);
    field_.stride_ = static_cast<std::int32_t>(columns_ + 1);
    field_.nodes_ = std::vector<PairField::Node>((columns_ + 1) * (rows_ + 1));
    entry_of_.assign(columns_ * rows_, none);
    inside_.assign(columns_ * rows_, 0);
  }

  [[nodiscard]] double line_y(std::size_t row) const {
    return field_.origin_.y + cell_.y * static_cast<double>(row);
  }
  [[nodiscard]] double line_x(std::size_t column) const {
    return field_.origin_.x + cell_.x * static_cast<double>(column);
  }
  [[nodiscard]] std::size_t column_of(double x) const {
    const double f = (x - field_.origin_.x) * field_.per_cell_.x;
    return static_cast<std::size_t>(std::clamp(f, 0.0, field_.columns_ - 1.0));
  }
  [[nodiscard]] std::size_t row_of(double y) const {
    const double f = (y - field_.origin_.y) * field_.per_cell_.y;
    return static_cast<std::size_t>(std::clamp(f, 0.0, field_.rows_ - 1.0));
  }

  void take_planes(const Loop& loop) {
    loop_planes_.clear();
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec a = loop[i];
      const Vec edge = loop[(i + 1) % loop.size()] - a;
      const double size = length(edge);
      if (size == 0.0) continue;
      const Vec n = (1.0 / size) * Vec{edge.y, -edge.x};
      loop_planes_.push_back({n.x, n.y, dot(n, a) - touching_mm, false, false});
    }
  }

  /// Where the grid's horizontal lines run inside the loop, and how wide the loop is between two lines.
  void cut_rows(const Loop& loop) {
    on_line_.assign(rows_ + 1, {});
    in_row_.assign(rows_, {});
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec a = loop[i];
      const Vec b = loop[(i + 1) % loop.size()];
      in_row_[row_of(a.y)].take(a.x);
      const auto [low, high] = std::minmax(a.y, b.y);
      if (low == high) continue;
      const double slope = (b.x - a.x) / (b.y - a.y);
      const std::size_t last = row_of(high);
      for (std::size_t line = row_of(low); line <= last + 1; ++line) {
        const double y = line_y(line);
        if (y < low || y > high) continue;
        const double x = a.x + (y - a.y) * slope;
        on_line_[line].take(x);
        if (line > 0) in_row_[line - 1].take(x);
        if (line < rows_) in_row_[line].take(x);
      }
    }
  }

  void mark(const Loop& loop) {
    take_planes(loop);
    cut_rows(loop);
    const Extent extent = extent_of(loop);
    for (std::size_t row = row_of(extent.y0); row <= row_of(extent.y1); ++row) {
      const Stretch any = in_row_[row];
      if (any.low > any.high) continue;
      const double whole_low = std::max(on_line_[row].low, on_line_[row + 1].low) + touching_mm;
      const double whole_high = std::min(on_line_[row].high, on_line_[row + 1].high) - touching_mm;
      for (std::size_t column = column_of(any.low); column <= column_of(any.high); ++column) {
        const std::size_t cell = row * columns_ + column;
        if (inside_[cell] != 0) continue;
        if (line_x(column) > whole_low && line_x(column + 1) < whole_high && row_is_whole(row, extent)) {
          inside_[cell] = 1;
        } else {
          mark_cell(row, column);
        }
      }
    }
  }

  /// Both lines of the row run through the loop.
  [[nodiscard]] bool row_is_whole(std::size_t row, const Extent& extent) const {
    return line_y(row) > extent.y0 + touching_mm && line_y(row + 1) < extent.y1 - touching_mm;
  }

  void mark_cell(std::size_t row, std::size_t column) {
    const Vec centre{line_x(column) + 0.5 * cell_.x, line_y(row) + 0.5 * cell_.y};
    // A little wider than the cell, so that rounding in the look-up of the cell does not matter.
    constexpr double wider = 0.5 * (1.0 + 1e-9);
    const std::size_t first = cell_planes_.size();
    for (const Plane& plane : loop_planes_) {
      const double at = plane.nx * centre.x + plane.ny * centre.y - plane.offset;
      const double reach = wider * (std::abs(plane.nx) * cell_.x + std::abs(plane.ny) * cell_.y);
      if (at >= reach) {
        cell_planes_.resize(first);
        return;
      }
      if (at > -reach) cell_planes_.push_back(plane);
    }
    const std::size_t cell = row * columns_ + column;
    if (cell_planes_.size() == first) {
      inside_[cell] = 1;
      return;
    }
    const auto entry = static_cast<std::uint32_t>(entries_.size());
    entries_.push_back({entry_of_[cell], static_cast<std::uint32_t>(first),
                        static_cast<std::uint32_t>(cell_planes_.size() - first)});
    entry_of_[cell] = entry;
  }

  /// Whether every plane of `wide` is one of `narrow` or weaker: then `narrow` adds nothing.
  [[nodiscard]] bool covers(const Entry& wide, const Entry& narrow) const {
    for (std::uint32_t i = 0; i < wide.plane_count; ++i) {
      const Plane& w = cell_planes_[wide.first_plane + i];
      bool implied = false;
      for (std::uint32_t k = 0; k < narrow.plane_count && !implied; ++k) {
        const Plane& n = cell_planes_[narrow.first_plane + k];
        implied = std::abs(w.nx - n.nx) + std::abs(w.ny - n.ny) < 1e-12 && n.offset <= w.offset;
      }
      if (!implied) return false;
    }
    return true;
  }

  void write_cells() {
    for (std::size_t row = 0; row < rows_; ++row) {
      for (std::size_t column = 0; column < columns_; ++column) {
        const std::size_t cell = row * columns_ + column;
        std::uint32_t& kind = field_.nodes_[row * (columns_ + 1) + column].cell;
        if (inside_[cell] != 0) {
          kind = PairField::inside_cell;
        } else if (entry_of_[cell] != none) {
          kind = PairField::first_mixed + static_cast<std::uint32_t>(field_.planes_.size());
          write_mixed(entry_of_[cell]);
        }
      }
    }
  }

  void write_mixed(std::uint32_t first) {
    std::vector<Entry> kept;
    for (std::uint32_t e = first; e != none; e = entries_[e].next) {
      const Entry& entry = entries_[e];
      if (std::any_of(kept.begin(), kept.end(), [&](const Entry& k) { return covers(k, entry); })) continue;
      std::erase_if(kept, [&](const Entry& k) { return covers(entry, k); });
      kept.push_back(entry);
    }
    for (const Entry& entry : kept) {
      for (std::uint32_t i = 0; i < entry.plane_count; ++i) {
        field_.planes_.push_back(cell_planes_[entry.first_plane + i]);
      }
      field_.planes_.back().last_of_part = true;
    }
    field_.planes_.back().last_of_cell = true;
  }

  PairField& field_;
  std::vector<Loop> loops_;
  std::size_t columns_ = 0;
  std::size_t rows_ = 0;
  Vec cell_;
  std::vector<Plane> loop_planes_;
  std::vector<Plane> cell_planes_;
  std::vector<Stretch> on_line_;
  std::vector<Stretch> in_row_;
  std::vector<Entry> entries_;
  std::vector<std::uint32_t> entry_of_;
  std::vector<char> inside_;
};

PairField::PairField(const Solid& a, const Solid& b, Turn turn, int cells_along)
    : a_(a),
      b_(b),
      turn_(turn),
      poles_a_(*a.poles, {}),
      poles_b_(*b.poles, turn),
      scale_(a.hull_area, a.diameter, b.hull_area, b.diameter) {
  FieldBuilder(*this, a, b, turn, cells_along);
}

void PairField::measure(std::int32_t column, std::int32_t row) const {
  for (const std::int32_t j : {row, row + 1}) {
    for (const std::int32_t i : {column, column + 1}) {
      std::atomic<float>& known = nodes_[node_at(i, j)].loss;
      if (known.load(std::memory_order_relaxed) == known.load(std::memory_order_relaxed)) continue;
      const Vec at{origin_.x + static_cast<double>(i) / per_cell_.x,
                   origin_.y + static_cast<double>(j) / per_cell_.y};
      known.store(static_cast<float>(scale_.loss(poles_a_, poles_b_, at)), std::memory_order_relaxed);
    }
  }
}

const std::vector<Vec>& PairField::corners() const {
  const std::vector<Vec>* known = corners_.load(std::memory_order_acquire);
  if (known != nullptr) return *known;
  auto mine = std::make_unique<std::vector<Vec>>();
  for (const Loop& loop : contact_loops(a_, b_, turn_)) {
    for (const Vec p : loop) {
      if (!overlaps_at(p)) mine->push_back(p);
    }
  }
  std::sort(mine->begin(), mine->end(), [](Vec s, Vec t) { return s.x < t.x || (s.x == t.x && s.y < t.y); });
  mine->erase(std::unique(mine->begin(), mine->end()), mine->end());
  if (corners_.compare_exchange_strong(known, mine.get(), std::memory_order_acq_rel)) return *mine.release();
  return *known;
}

bool PairField::overlaps_at(Vec p) const {
  const double fx = (p.x - origin_.x) * per_cell_.x;
  const double fy = (p.y - origin_.y) * per_cell_.y;
  if (!(fx >= 0.0 && fy >= 0.0 && fx < columns_ && fy < rows_)) return false;
  const std::uint32_t cell =
      nodes_[node_at(static_cast<std::int32_t>(fx), static_cast<std::int32_t>(fy))].cell;
  return cell == inside_cell || (cell != free_cell && overlaps(&planes_[cell - first_mixed], p));
}

}  // namespace warmsheet::nesting
