// SPDX-License-Identifier: MIT
#include "nesting/shapes.h"

#include <map>
#include <utility>

namespace warmsheet::nesting {
namespace {

constexpr int cells_along =
    32;  // of a pair field's grid: below, losses are too coarse to steer by; above, slow to make

double whole_turn(double angle_deg) {
  constexpr double same_angle = 1e-9;
  double angle = std::fmod(angle_deg, 360.0);
  if (angle < 0.0) angle += 360.0;
  const double nearest = std::round(angle);
  if (std::abs(angle - nearest) < same_angle) angle = nearest;
  return angle == 360.0 ? 0.0 : angle;
}

}  // namespace

Shapes::Shapes(std::vector<Form> forms_given, std::size_t first_ground, std::vector<Stance> stances_given,
               const std::vector<double>& angles_deg)
    : forms(std::move(forms_given)),
      stances(std::move(stances_given)),
      first_ground_(first_ground),
      angle_count_(angles_deg.size()) {
  std::map<double, std::size_t> known;
  for (const double from : angles_deg) {
    for (const double to : angles_deg) {
      const double turn = whole_turn(to - from);
      const auto [it, is_new] = known.emplace(turn, turns_.size());
      if (is_new) turns_.push_back(turn_by(turn));
      relative_.push_back(static_cast<std::uint32_t>(it->second));
    }
  }
  for (const Stance& s : stances)
    lays_.push_back({s.turn, static_cast<std::uint32_t>(s.form), static_cast<std::uint32_t>(s.angle)});
  for (const Stance& s : stances) poses_.emplace_back(forms[s.form], s.turn);
  fields_ = std::make_unique<Fields>(forms.size(), turns_.size());
}

Solid Shapes::solid(std::size_t form, std::size_t beside) const {
  const Form& f = forms[form];
  const bool bare = form < first_ground_ && beside >= first_ground_;
  return {bare ? &f.bare : &f.parts, bare ? &f.bare_poles : &f.poles, f.hull_area, f.diameter};
}

const PairField& Shapes::make(std::size_t a, std::size_t b, std::size_t turn) const {
  auto mine = std::make_unique<const PairField>(solid(a, b), solid(b, a), turns_[turn], cells_along);
  auto& place = fields_->at(a, b, turn);
  const PairField* known = nullptr;
  if (place.compare_exchange_strong(known, mine.get(), std::memory_order_acq_rel)) return *mine.release();
  return *known;
}

}  // namespace warmsheet::nesting
