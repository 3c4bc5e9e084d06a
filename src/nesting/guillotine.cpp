// SPDX-License-Identifier: MIT
// A kerf k is exact if every piece is taken k wider and higher, and the sheet too: the last piece in a row
// needs no cut.
#include "nesting/guillotine.h"

#include <algorithm>
#include <functional>
#include <limits>
#include <optional>
#include <queue>
#include <set>
#include <tuple>
#include <utility>

#include "nesting/cut_tree.h"

namespace warmsheet::nesting {
namespace {

/// One blank in one attitude, sides with the kerf.
struct Face {
  Micrometres width;
  Micrometres height;
  double value;
  std::size_t blank;
  bool turned;
};

std::vector<Face> faces_of(const std::vector<Blank>& blanks, Micrometres kerf) {
  std::vector<Face> faces;
  for (std::size_t i = 0; i < blanks.size(); ++i) {
    const Blank& b = blanks[i];
    faces.push_back({b.width + kerf, b.height + kerf, b.value, i, false});
    if (b.may_turn && b.width != b.height)
      faces.push_back({b.height + kerf, b.width + kerf, b.value, i, true});
  }
  return faces;
}

/// All sums of sides up to `most`, with 0 and `most` themselves. No cut needs another coordinate (normal
/// patterns, Christofides and Whitlock 1977).
std::vector<Micrometres> sums_of(const std::vector<Micrometres>& sides, Micrometres most) {
  std::vector<Micrometres> sums{0};
  for (std::size_t next = 0; next < sums.size(); ++next) {
    std::vector<Micrometres> longer;
    for (const Micrometres side : sides) {
      if (sums[next] + side <= most) longer.push_back(sums[next] + side);
    }
    for (const Micrometres sum : longer) {
      const auto place = std::lower_bound(sums.begin(), sums.end(), sum);
      if (place == sums.end() || *place != sum) sums.insert(place, sum);
    }
  }
  if (sums.back() != most) sums.push_back(most);
  return sums;
}

/// The most valuable unlimited cutting of every rectangle with sides among the sums.
class ValueTable {
 public:
  ValueTable(const std::vector<Face>& faces, Micrometres width, Micrometres height) : faces_(faces) {
    std::vector<Micrometres> widths;
    std::vector<Micrometres> heights;
    for (const Face& face : faces) {
      if (face.width > width || face.height > height) continue;
      widths.push_back(face.width);
      heights.push_back(face.height);
    }
    xs_ = sums_of(widths, width);
    ys_ = sums_of(heights, height);
    entries_.resize(xs_.size() * ys_.size());
    lay_faces();
    for (std::size_t i = 1; i < xs_.size(); ++i) {
      for (std::size_t j = 1; j < ys_.size(); ++j) settle(i, j);
    }
  }

  [[nodiscard]] double value(Micrometres width, Micrometres height) const {
    return at(column(width), row(height)).value;
  }
  [[nodiscard]] const std::vector<Micrometres>& xs() const { return xs_; }
  [[nodiscard]] const std::vector<Micrometres>& ys() const { return ys_; }
  [[nodiscard]] std::size_t column(Micrometres width) const { return floor_of(xs_, width); }
  [[nodiscard]] std::size_t row(Micrometres height) const { return floor_of(ys_, height); }
  [[nodiscard]] double value_at(std::size_t i, std::size_t j) const { return at(i, j).value; }

  /// Writes the best cutting of a rectangle into the plan.
  void describe(CutPlanner& plan, std::size_t slab, Micrometres width, Micrometres height) const {
    const std::size_t i = column(width);
    const std::size_t j = row(height);
    const Entry& entry = at(i, j);
    if (entry.how == How::nothing) return;
    if (entry.how == How::face) {
      const Face& face = faces_[entry.detail];
      plan.piece(slab, face.width, face.height, face.blank, face.turned);
      return;
    }
    const bool across = entry.how == How::across;
    const auto [first, second] =
        across ? plan.cut_across(slab, xs_[entry.detail]) : plan.cut_along(slab, ys_[entry.detail]);
    if (across) {
      describe(plan, first, xs_[entry.detail], height);
      describe(plan, second, width - xs_[entry.detail], height);
    } else {
      describe(plan, first, width, ys_[entry.detail]);
      describe(plan, second, width, height - ys_[entry.detail]);
    }
  }

 private:
  enum class How : std::uint8_t { nothing, face, across, along };
  struct Entry {
    double value = 0.0;
    How how = How::nothing;
    std::uint32_t detail = 0;
  };

  static std::size_t floor_of(const std::vector<Micrometres>& sums, Micrometres side) {
    return static_cast<std::size_t>(std::upper_bound(sums.begin(), sums.end(), side) - sums.begin()) - 1;
  }
  [[nodiscard]] const Entry& at(std::size_t i, std::size_t j) const { return entries_[i * ys_.size() + j]; }
  [[nodiscard]] Entry& at(std::size_t i, std::size_t j) { return entries_[i * ys_.size() + j]; }

  void lay_faces() {
    for (std::size_t f = 0; f < faces_.size(); ++f) {
      const Face& face = faces_[f];
      if (face.width > xs_.back() || face.height > ys_.back()) continue;
      Entry& entry = at(column(face.width), row(face.height));
      if (face.value > entry.value) entry = {face.value, How::face, static_cast<std::uint32_t>(f)};
    }
  }

  void settle(std::size_t i, std::size_t j) {
    Entry best = at(i, j);
    const auto take = [&best](double value, Entry with) {
      if (value > best.value) best = {value, with.how, with.detail};
    };
    take(at(i - 1, j).value, at(i - 1, j));
    take(at(i, j - 1).value, at(i, j - 1));
    std::size_t other = i;  // the largest sum that fits beside xs_[k]; it falls as k rises
    for (std::size_t k = 1; 2 * xs_[k] <= xs_[i]; ++k) {
      while (xs_[other] > xs_[i] - xs_[k]) --other;
      take(at(k, j).value + at(other, j).value, {0.0, How::across, static_cast<std::uint32_t>(k)});
    }
    other = j;
    for (std::size_t k = 1; 2 * ys_[k] <= ys_[j]; ++k) {
      while (ys_[other] > ys_[j] - ys_[k]) --other;
      take(at(i, k).value + at(i, other).value, {0.0, How::along, static_cast<std::uint32_t>(k)});
    }
    at(i, j) = best;
  }

  const std::vector<Face>& faces_;
  std::vector<Micrometres> xs_;
  std::vector<Micrometres> ys_;
  std::vector<Entry> entries_;
};

/// For a rectangle at the sheet's corner: the most that the rest of the sheet can add to it.
class RestTable {
 public:
  explicit RestTable(const ValueTable& values) : values_(values), rows_(values.ys().size()) {
    const std::vector<Micrometres>& xs = values.xs();
    const std::vector<Micrometres>& ys = values.ys();
    rest_.assign(xs.size() * rows_, 0.0);
    for (std::size_t i = xs.size(); i-- > 0;) {
      for (std::size_t j = rows_; j-- > 0;) {
        double& best = rest_[i * rows_ + j];
        for (std::size_t k = i + 1; k < xs.size(); ++k)
          best = std::max(best, rest_[k * rows_ + j] + values.value_at(values.column(xs[k] - xs[i]), j));
        for (std::size_t k = j + 1; k < rows_; ++k)
          best = std::max(best, rest_[i * rows_ + k] + values.value_at(i, values.row(ys[k] - ys[j])));
      }
    }
  }

  [[nodiscard]] double beside(Micrometres width, Micrometres height) const {
    return rest_[values_.column(width) * rows_ + values_.row(height)];
  }

 private:
  const ValueTable& values_;
  std::size_t rows_;
  std::vector<double> rest_;
};

/// Rectangles built from pieces by putting two side by side or one on the other.
class BuildUp {
 public:
  BuildUp(const std::vector<Blank>& blanks, const std::vector<Face>& faces, const ValueTable& values,
          Micrometres width, Micrometres height)
      : blanks_(blanks), faces_(faces), rest_(values), width_(width), height_(height) {}

  bool run(std::size_t most_nodes) {
    for (std::size_t f = 0; f < faces_.size(); ++f) add_face(f);
    while (!open_.empty()) {
      const auto [bound, neg] = open_.top();
      open_.pop();
      if (best_ && bound <= nodes_[*best_].value) return true;
      if (nodes_.size() > most_nodes) return false;
      const std::size_t next = static_cast<std::size_t>(-neg);
      closed_.push_back(next);
      for (std::size_t k = 0; k < closed_.size(); ++k) {
        join(next, closed_[k], true);
        join(next, closed_[k], false);
      }
    }
    return true;
  }

  [[nodiscard]] double value() const { return best_ ? nodes_[*best_].value : 0.0; }

  void describe(CutPlanner& plan, std::size_t slab) const {
    if (best_) describe(plan, slab, *best_);
  }

 private:
  struct Node {
    Micrometres width;
    Micrometres height;
    double value;
    std::vector<int> used;
    bool is_face;
    bool across;        // the parts stand side by side
    std::size_t first;  // face, or the first part
    std::size_t second;
  };
  using Key = std::tuple<Micrometres, Micrometres, std::vector<int>>;

  void add_face(std::size_t f) {
    const Face& face = faces_[f];
    if (face.width > width_ || face.height > height_ || blanks_[face.blank].most == 0) return;
    Node node{face.width, face.height, face.value, std::vector<int>(blanks_.size(), 0), true, false, f, 0};
    node.used[face.blank] = 1;
    add(std::move(node));
  }

  void join(std::size_t a, std::size_t b, bool across) {
    const Node& na = nodes_[a];
    const Node& nb = nodes_[b];
    Node node{across ? na.width + nb.width : std::max(na.width, nb.width),
              across ? std::max(na.height, nb.height) : na.height + nb.height,
              na.value + nb.value,
              na.used,
              false,
              across,
              a,
              b};
    if (node.width > width_ || node.height > height_) return;
    for (std::size_t i = 0; i < node.used.size(); ++i) {
      node.used[i] += nb.used[i];
      if (blanks_[i].most >= 0 && node.used[i] > blanks_[i].most) return;
    }
    add(std::move(node));
  }

  void add(Node node) {
    const double bound = node.value + rest_.beside(node.width, node.height);
    if (best_ && bound <= nodes_[*best_].value) return;
    if (!seen_.emplace(node.width, node.height, node.used).second) return;
    const std::size_t index = nodes_.size();
    if (!best_ || node.value > nodes_[*best_].value) best_ = index;
    nodes_.push_back(std::move(node));
    open_.emplace(bound, -static_cast<std::ptrdiff_t>(index));
  }

  void describe(CutPlanner& plan, std::size_t slab, std::size_t index) const {
    const Node& node = nodes_[index];
    if (node.is_face) {
      const Face& face = faces_[node.first];
      plan.piece(slab, face.width, face.height, face.blank, face.turned);
      return;
    }
    const Node& one = nodes_[node.first];
    const auto [first, second] =
        node.across ? plan.cut_across(slab, one.width) : plan.cut_along(slab, one.height);
    describe(plan, first, node.first);
    describe(plan, second, node.second);
  }

  const std::vector<Blank>& blanks_;
  const std::vector<Face>& faces_;
  RestTable rest_;
  Micrometres width_;
  Micrometres height_;
  std::vector<Node> nodes_;
  std::vector<std::size_t> closed_;
  std::priority_queue<std::pair<double, std::ptrdiff_t>> open_;  // of equal bounds the older first
  std::set<Key> seen_;
  std::optional<std::size_t> best_;
};

}  // namespace

Cutting cut_unlimited(const std::vector<Blank>& blanks, Micrometres width, Micrometres height,
                      Micrometres kerf) {
  const std::vector<Face> faces = faces_of(blanks, kerf);
  const ValueTable values(faces, width + kerf, height + kerf);
  CutPlanner plan(width, height, kerf);
  values.describe(plan, 0, width + kerf, height + kerf);
  return {values.value(width + kerf, height + kerf), true, plan.take()};
}

Cutting cut_limited(const std::vector<Blank>& blanks, Micrometres width, Micrometres height, Micrometres kerf,
                    std::size_t most_nodes) {
  const std::vector<Face> faces = faces_of(blanks, kerf);
  const ValueTable values(faces, width + kerf, height + kerf);
  BuildUp build(blanks, faces, values, width + kerf, height + kerf);
  const bool proven = build.run(most_nodes);
  CutPlanner plan(width, height, kerf);
  build.describe(plan, 0);
  return {build.value(), proven, plan.take()};
}

}  // namespace warmsheet::nesting
