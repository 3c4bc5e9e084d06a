// SPDX-License-Identifier: MIT
#include "nesting/crowd.h"

#include <utility>

namespace warmsheet::nesting {

Crowd::Crowd(const World& world, std::vector<Bin> bins, std::vector<Spot> spots)
    : world_(&world), bins_(std::move(bins)), spots_(std::move(spots)) {
  spots_.insert(spots_.end(), world.anchors.begin(), world.anchors.end());
  const std::size_t n = spots_.size();
  loss_.assign(n * n, 0.0F);
  weight_.assign(n * n, 1.0F);
  overlap_count_.assign(n, 0);
  tilted_.resize(n);
  for (const Bin& bin : bins_) residents_.emplace_back(bin.length_mm, bin.height_mm);
  for (std::size_t i = items(); i < n; ++i) enter(i);
  for (std::size_t i = 0; i < items(); ++i) enter(i);
}

const Pose& Crowd::tilted(std::size_t which, double tilt_deg) const {
  if (which != asked_stance_ || tilt_deg != asked_tilt_deg_) {
    const Stance& s = stance(which);
    asked_.set(world_->shapes->forms[s.form], turn_by(s.angle_deg + tilt_deg));
    asked_stance_ = which;
    asked_tilt_deg_ = tilt_deg;
  }
  return asked_;
}

const Pose& Crowd::pose_at(std::size_t index) const {
  return spots_[index].tilt_deg == 0.0 ? world_->shapes->pose(spots_[index].stance) : tilted_[index];
}

Extent Crowd::reach(const Spot& spot) const {
  const Extent& box =
      spot.tilt_deg == 0.0 ? stance(spot.stance).grown : tilted(spot.stance, spot.tilt_deg).grown;
  return {spot.at.x + box.x0, spot.at.y + box.y0, spot.at.x + box.x1, spot.at.y + box.y1};
}

double Crowd::loss_with(const Spot& there, std::size_t index) const {
  const Spot& other = spots_[index];
  const Shapes& shapes = *world_->shapes;
  if (there.tilt_deg == 0.0 && other.tilt_deg == 0.0)
    return shapes.loss(there.stance, there.at, other.stance, other.at);
  const Pose& mine = there.tilt_deg == 0.0 ? shapes.pose(there.stance) : tilted(there.stance, there.tilt_deg);
  return shapes.loss(there.stance, mine, other.stance, pose_at(index), other.at - there.at);
}

double Crowd::cost(std::size_t item, const Spot& there, double bound) const {
  ++evaluations_;
  const float* weights = &weight_[pair(item, 0)];
  double sum = 0.0;
  residents_[there.bin].meet(reach(there), [&](std::uint32_t id) {
    if (id == item) return true;
    const double loss = loss_with(there, id);
    if (loss > 0.0) sum += static_cast<double>(weights[id]) * loss;
    return sum < bound;
  });
  return sum;
}

double Crowd::present_cost(std::size_t item) const {
  const float* weights = &weight_[pair(item, 0)];
  const float* losses = &loss_[pair(item, 0)];
  double sum = 0.0;
  for (std::size_t j = 0; j < spots_.size(); ++j) sum += static_cast<double>(weights[j] * losses[j]);
  return sum;
}

double Crowd::total_loss() const {
  double sum = 0.0;
  for_overlaps([&](std::size_t a, std::size_t b) { sum += static_cast<double>(loss_[pair(a, b)]); });
  return sum;
}

void Crowd::set_loss(std::size_t a, std::size_t b, double loss) {
  const bool was = loss_[pair(a, b)] > 0.0F;
  const bool is = loss > 0.0;
  loss_[pair(a, b)] = static_cast<float>(loss);
  loss_[pair(b, a)] = static_cast<float>(loss);
  if (was == is) return;
  overlapping_pairs_ += is ? 1 : std::size_t(-1);
  overlap_count_[a] += is ? 1U : ~0U;
  overlap_count_[b] += is ? 1U : ~0U;
}

void Crowd::enter(std::size_t item) {
  const Spot& spot = spots_[item];
  if (spot.tilt_deg != 0.0) tilted_[item] = tilted(spot.stance, spot.tilt_deg);
  const Extent box = reach(spot);
  if (item < items()) {
    residents_[spot.bin].meet(box, [&](std::uint32_t id) {
      const double loss = loss_with(spot, id);
      if (loss > 0.0) set_loss(item, id, loss);
      return true;
    });
  }
  residents_[spot.bin].enter(static_cast<std::uint32_t>(item), box);
}

void Crowd::leave(std::size_t item) {
  if (overlap_count_[item] > 0) {
    for (std::size_t j = 0; j < spots_.size(); ++j) {
      if (loss_[pair(item, j)] > 0.0F) set_loss(item, j, 0.0);
    }
  }
  residents_[spots_[item].bin].leave(static_cast<std::uint32_t>(item));
}

void Crowd::move(std::size_t item, const Spot& there) {
  leave(item);
  spots_[item] = there;
  enter(item);
}

void Crowd::restore(const std::vector<Spot>& spots) {
  std::fill(loss_.begin(), loss_.end(), 0.0F);
  std::fill(overlap_count_.begin(), overlap_count_.end(), 0U);
  overlapping_pairs_ = 0;
  residents_.clear();
  for (const Bin& bin : bins_) residents_.emplace_back(bin.length_mm, bin.height_mm);
  std::copy(spots.begin(), spots.begin() + signed_items(), spots_.begin());
  for (std::size_t i = items(); i < spots_.size(); ++i) enter(i);
  for (std::size_t i = 0; i < items(); ++i) enter(i);
}

std::optional<Spot> Crowd::inside(std::size_t item, Spot spot) const {
  const auto fits = [&](std::size_t stance, std::size_t bin, double tilt_deg) -> std::optional<Spot> {
    const Room place = room(stance, bin, tilt_deg);
    if (place.empty()) return std::nullopt;
    return Spot{stance, bin, place.clamped(spot.at), tilt_deg};
  };
  if (const auto same = fits(spot.stance, spot.bin, spot.tilt_deg)) return same;
  const std::size_t bins_to_try = stays(item) ? 1 : bins_.size();
  for (std::size_t k = 0; k < bins_to_try; ++k) {
    const std::size_t bin = (spot.bin + k) % bins_.size();
    for (const std::size_t stance : kind(item).stances) {
      if (const auto other = fits(stance, bin, 0.0)) return other;
    }
  }
  return std::nullopt;
}

void Crowd::stretch_last(double length_mm, double cut) {
  const std::size_t last = bins_.size() - 1;
  const double change = length_mm - bins_[last].length_mm;
  bins_[last].length_mm = length_mm;
  std::vector<Spot> moved = spots_;
  for (std::size_t i = 0; i < items(); ++i) {
    Spot& spot = moved[i];
    if (spot.bin != last) continue;
    if (spot.at.x > cut) spot.at.x += change;
    if (const std::optional<Spot> fits = inside(i, spot)) spot = *fits;
  }
  restore(moved);
}

void Crowd::learn() {
  // Multipliers of Gardeyn et al. 2025, routine 8.
  constexpr float least_rise = 1.2F;
  constexpr float further_rise = 0.8F;
  constexpr float fade = 0.95F;
  float deepest = 0.0F;
  for_overlaps([&](std::size_t a, std::size_t b) {
    deepest = std::max(deepest, loss_[pair(a, b)]);
    if (weight_[pair(a, b)] == 1.0F) heavy_.emplace_back(a, b);
  });
  if (deepest == 0.0F) return;
  for (const auto& [a, b] : heavy_) {
    float& weight = weight_[pair(a, b)];
    const float loss = loss_[pair(a, b)];
    weight =
        loss > 0.0F ? weight * (least_rise + further_rise * loss / deepest) : std::max(1.0F, weight * fade);
    weight_[pair(b, a)] = weight;
  }
  std::erase_if(heavy_, [this](const auto& p) { return weight_[pair(p.first, p.second)] == 1.0F; });
}

void Crowd::forget() {
  for (const auto& [a, b] : heavy_) weight_[pair(a, b)] = weight_[pair(b, a)] = 1.0F;
  heavy_.clear();
}

}  // namespace warmsheet::nesting
