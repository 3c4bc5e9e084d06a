// SPDX-License-Identifier: MIT
// All items at their present places, the loss of every pair, and the weights of the guided local search.
// Items may overlap; they always lie inside their bin's rectangle.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "nesting/random.h"
#include "nesting/residents.h"
#include "nesting/world.h"

namespace warmsheet::nesting {

struct Spot {
  std::size_t stance = 0;
  std::size_t bin = 0;
  Vec at;  ///< of the form's centre
};

/// Where a stance may lie in a bin. Empty if it does not fit.
struct Room {
  Vec low;
  Vec high;
  [[nodiscard]] bool empty() const { return low.x > high.x || low.y > high.y; }
  [[nodiscard]] Vec clamped(Vec p) const {
    return {std::clamp(p.x, low.x, high.x), std::clamp(p.y, low.y, high.y)};
  }
};

Room room_in(const Bin& bin, const Extent& box);

class Crowd {
 public:
  /// \pre every item's spot lies in a room that is not empty
  Crowd(const World& world, std::vector<Bin> bins, std::vector<Spot> spots);

  [[nodiscard]] const World& world() const { return *world_; }
  [[nodiscard]] const std::vector<Bin>& bins() const { return bins_; }
  [[nodiscard]] std::size_t items() const { return world_->items.size(); }
  [[nodiscard]] const Spot& spot(std::size_t item) const { return spots_[item]; }
  [[nodiscard]] std::vector<Spot> spots() const { return {spots_.begin(), spots_.begin() + signed_items()}; }
  [[nodiscard]] const Kind& kind(std::size_t item) const { return (*world_->kinds)[world_->items[item]]; }
  [[nodiscard]] const Stance& stance(std::size_t stance) const { return world_->shapes->stances[stance]; }
  [[nodiscard]] Room room(std::size_t which, std::size_t bin) const {
    return room_in(bins_[bin], stance(which).box);
  }
  /// The spot moved into its bin, in another stance or in another bin if need be; nothing if it fits nowhere.
  [[nodiscard]] std::optional<Spot> inside(std::size_t item, Spot spot) const;

  /// Weighted loss of an item laid there; stops adding once `bound` is reached.
  [[nodiscard]] double cost(std::size_t item, const Spot& there, double bound) const;
  /// The same where it lies now, from the stored losses.
  [[nodiscard]] double present_cost(std::size_t item) const;
  [[nodiscard]] bool overlaps(std::size_t item) const { return overlap_count_[item] > 0; }
  [[nodiscard]] bool apart() const { return overlapping_pairs_ == 0; }
  /// Sum of all losses, not weighted.
  [[nodiscard]] double total_loss() const;

  void move(std::size_t item, const Spot& there);
  void restore(const std::vector<Spot>& spots);
  /// Gives the last bin another length; items beyond `cut` move with its end, then all are brought inside.
  /// \pre every item still fits somewhere
  void stretch_last(double length_mm, double cut);

  /// Raises the weights of overlapping pairs, most for the deepest, and lets the others fade.
  void learn();
  void forget();

  [[nodiscard]] std::uint64_t evaluations() const { return evaluations_; }

 private:
  [[nodiscard]] std::ptrdiff_t signed_items() const { return static_cast<std::ptrdiff_t>(items()); }
  [[nodiscard]] std::size_t pair(std::size_t a, std::size_t b) const { return a * spots_.size() + b; }
  [[nodiscard]] Extent reach(const Spot& spot) const;
  void enter(std::size_t item);
  void leave(std::size_t item);
  void set_loss(std::size_t a, std::size_t b, double loss);

  const World* world_;
  std::vector<Bin> bins_;
  std::vector<Spot> spots_;  // items, then anchors
  std::vector<Residents> residents_;
  std::vector<float> loss_;
  std::vector<float> weight_;
  std::vector<std::uint32_t> overlap_count_;
  std::size_t overlapping_pairs_ = 0;
  mutable std::uint64_t evaluations_ = 0;
};

}  // namespace warmsheet::nesting
