// SPDX-License-Identifier: MIT
// All items at their present places, the loss of every pair, and the weights of the guided local search.
// Items may overlap; they always lie inside their bin's rectangle.
#pragma once

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "nesting/random.h"
#include "nesting/residents.h"
#include "nesting/world.h"

namespace warmsheet::nesting {

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
  [[nodiscard]] Room room(std::size_t which, std::size_t bin, double tilt_deg = 0.0) const {
    return room_in(bins_[bin], tilt_deg == 0.0 ? stance(which).box : tilted(which, tilt_deg).box);
  }
  [[nodiscard]] bool stays(std::size_t item) const {
    return !world_->stays.empty() && world_->stays[item] != 0;
  }
  /// Of the true outline where the item lies, about its centre.
  [[nodiscard]] const Extent& box(std::size_t item) const { return pose_at(item).box; }
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
  /// The pose of a stance tilted; the last one asked for is kept.
  [[nodiscard]] const Pose& tilted(std::size_t stance, double tilt_deg) const;
  [[nodiscard]] const Pose& pose_at(std::size_t index) const;
  [[nodiscard]] Extent reach(const Spot& spot) const;
  [[nodiscard]] double loss_with(const Spot& there, std::size_t other) const;
  /// Calls `visit(a, b)` once for every overlapping pair, a an item, b a later item or an anchor.
  template <typename Visit>
  void for_overlaps(const Visit& visit) const {
    for (std::size_t a = 0; a < items(); ++a) {
      if (overlap_count_[a] == 0) continue;
      for (std::size_t b = a + 1; b < spots_.size(); ++b) {
        if (loss_[pair(a, b)] > 0.0F) visit(a, b);
      }
    }
  }
  void enter(std::size_t item);
  void leave(std::size_t item);
  void set_loss(std::size_t a, std::size_t b, double loss);

  const World* world_;
  std::vector<Bin> bins_;
  std::vector<Spot> spots_;  // items, then anchors
  std::vector<Residents> residents_;
  std::vector<float> loss_;
  std::vector<float> weight_;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> heavy_;  // pairs that weigh more than 1
  std::vector<std::uint32_t> overlap_count_;
  std::size_t overlapping_pairs_ = 0;
  std::vector<Pose> tilted_;  // of the spots that are tilted
  mutable Pose asked_;
  mutable std::size_t asked_stance_ = std::numeric_limits<std::size_t>::max();
  mutable double asked_tilt_deg_ = 0.0;
  mutable std::uint64_t evaluations_ = 0;
};

}  // namespace warmsheet::nesting
