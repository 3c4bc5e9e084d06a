// SPDX-License-Identifier: MIT
#include "heat/surface.h"

#include <algorithm>
#include <cmath>

namespace warmsheet::heat {
namespace {

// Newton on a nearly straight line: two rounds reach 1e-9 K; more are a guard, not a need.
constexpr int most_rounds = 12;
constexpr double surface_tolerance_K = 1e-9;

Exchange through_table(const Face& face, double half, double centre_K, double outer_K) {
  const double resistance = half + face.resistance_m2K_W;
  LossTable::Loss loss{};
  for (int round = 0; round < most_rounds; ++round) {
    loss = face.table->at(outer_K);
    const double change = (centre_K - outer_K - resistance * loss.W_m2) / (1.0 + resistance * loss.slope);
    outer_K += change;
    if (std::abs(change) < surface_tolerance_K) break;
  }
  loss = face.table->at(outer_K);
  return {loss.W_m2, loss.slope / (1.0 + resistance * loss.slope), centre_K - half * loss.W_m2, outer_K};
}

}  // namespace

LossTable::LossTable(const std::function<double(double)>& loss_W_m2, double low_K, double high_K,
                     double step_K)
    : low_K_(low_K), step_K_(step_K) {
  const auto steps = static_cast<std::size_t>(std::ceil((high_K - low_K) / step_K));
  losses_.reserve(steps + 1);
  for (std::size_t i = 0; i <= std::max<std::size_t>(steps, 1); ++i)
    losses_.push_back(loss_W_m2(low_K + step_K * static_cast<double>(i)));
}

LossTable::Loss LossTable::at(double surface_K) const {
  const double place = (surface_K - low_K_) / step_K_;
  const double last = static_cast<double>(losses_.size() - 2);
  const auto below = static_cast<std::size_t>(std::clamp(place, 0.0, last));
  const double rise = losses_[below + 1] - losses_[below];
  return {losses_[below] + rise * (place - static_cast<double>(below)), rise / step_K_};
}

Face Face::held(double temperature_K) {
  Face face;
  face.kind = Kind::held;
  face.temperature_K = temperature_K;
  return face;
}

Face Face::film(double film_W_m2K, double temperature_K) {
  Face face;
  face.kind = Kind::film;
  face.film_W_m2K = film_W_m2K;
  face.temperature_K = temperature_K;
  return face;
}

Face Face::flux(double loss_W_m2) {
  Face face;
  face.kind = Kind::flux;
  face.loss_W_m2 = loss_W_m2;
  return face;
}

Face Face::losing(const LossTable& table, double resistance_m2K_W) {
  Face face;
  face.kind = Kind::table;
  face.table = &table;
  face.resistance_m2K_W = resistance_m2K_W;
  return face;
}

Exchange exchange(const Face& face, double half, double centre_K, double outer_guess_K) {
  switch (face.kind) {
    case Face::Kind::insulated:
      return {0.0, 0.0, centre_K, centre_K};
    case Face::Kind::held:
      return {(centre_K - face.temperature_K) / half, 1.0 / half, face.temperature_K, face.temperature_K};
    case Face::Kind::film: {
      const double conductance = 1.0 / (half + face.resistance_m2K_W + 1.0 / face.film_W_m2K);
      const double loss = conductance * (centre_K - face.temperature_K);
      return {loss, conductance, centre_K - half * loss, centre_K - (half + face.resistance_m2K_W) * loss};
    }
    case Face::Kind::flux:
      return {face.loss_W_m2, 0.0, centre_K - half * face.loss_W_m2, centre_K};
    case Face::Kind::table:
      return through_table(face, half, centre_K, outer_guess_K);
  }
  return {};
}

}  // namespace warmsheet::heat
