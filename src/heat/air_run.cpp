// SPDX-License-Identifier: MIT
#include "heat/air_run.h"

#include <algorithm>
#include <cmath>

namespace warmsheet::heat {
namespace {

constexpr double growth_inward = 1.25;
constexpr double first_step_s = 0.02;
// Nothing jumps inside the sheet when a face falls dry or a run is taken up again.
constexpr double resumed_step_s = 0.2;
constexpr double longest_step_s = 60.0;
// Loss tables: a kelvin apart the straight lines miss the curve by 4e-4 of the loss at most (evaporation
// bends most).
constexpr double table_step_K = 1.0;
constexpr double table_margin_K = 5.0;
// Only the towel's effusivity matters while the heat does not reach its far end: half a minute's way into the
// towel is 3 mm, an hour's 30 mm.
constexpr double towel_m2_s = 2.5e-7;  // 0.05 W/mK over 150 kg/m3 and 1340 J/kgK, from memory
constexpr double towel_depth_m = 0.05;
constexpr std::size_t towel_cells = 12;  // the first is 0.2 mm
constexpr double towel_growth = 1.5;
// Water left that counts as dry.
constexpr double dry_share = 1e-3;

Facing outer_facing(const AirCase& air) {
  return air.upright ? Facing::sideways : Facing::upward;
}

FaceTables face_tables(const Case& c, Facing facing) {
  const Plate plate{c.air.area_m2, c.sheet.emissivity};
  const Room& room = c.air.room;
  const double low = std::min(room.air_K, c.limb.tissue.surface_K) - table_margin_K;
  const double high = std::max(c.bath.bath_K, room.air_K) + table_margin_K;
  const auto table = [&](auto&& loss) { return LossTable(loss, low, high, table_step_K); };
  FaceTables tables{table([&](double K) { return dry_loss_W_m2(plate, facing, room, K); }), {}, {}};
  if (c.air.water_kg_m2 <= 0.0) return tables;
  if (!c.air.evaporates) {
    tables.wet = tables.dry;
    tables.evaporation = table([](double) { return 0.0; });
    return tables;
  }
  tables.wet = table([&](double K) { return wet_loss_W_m2(plate, facing, room, K); });
  tables.evaporation = table([&](double K) { return evaporation_kg_m2s(plate, facing, room, K); });
  return tables;
}

/// What lies under the sheet in layers of the solver.
SlabLayer towel_layer(double effusivity_W_s05_m2K) {
  return {.conductivity_W_mK = effusivity_W_s05_m2K * std::sqrt(towel_m2_s),
          .phases = Phases::unchanging(1.0, effusivity_W_s05_m2K / std::sqrt(towel_m2_s)),
          .widths_m = growing_widths(towel_depth_m, towel_cells, towel_growth)};
}

/// Whether the towel takes up what patting left under the sheet.
bool soaks_away(const AirCase& air) {
  return air.towel_W_s05_m2K && !air.undried;
}

/// The sheet as it leaves the bath: soaked, or as far as it came when it was lifted. Layers are laid together
/// after that.
void lift_out(const Bench& bench, std::size_t sheet_cells, Slab& slab) {
  const Case& c = bench.of();
  const double sheet_m = c.sheet.cooling_thickness_m() * c.sheet.layers;
  slab.set_crystallinity(0.0);
  slab.set_temperature([&](double x_m) { return x_m < sheet_m ? c.bath.bath_K : c.air.room.air_K; });
  if (!c.bath.lifted_s) return;
  const BathProfile profile = bath_profile(c, *c.bath.lifted_s);
  std::vector<double> temperature_K;
  std::vector<double> progress;
  double edge_m = 0.0;
  for (std::size_t i = 0; i < sheet_cells; ++i) {
    const double in_layer = std::fmod(edge_m + 0.5 * slab.width_m(i), c.sheet.cooling_thickness_m()) /
                            c.sheet.cooling_thickness_m();
    // One wet face is the outer one, at the left.
    const BathProfile::Point point =
        profile.at(c.bath.one_face ? 1.0 - in_layer : std::abs(2.0 * in_layer - 1.0));
    temperature_K.push_back(point.temperature_K);
    progress.push_back(bench.kinetics().progress(point.crystallinity));
    edge_m += slab.width_m(i);
  }
  slab.set_cells(0, temperature_K, progress);
}

Slab sheet_lifted_out(const Bench& bench) {
  const Case& c = bench.of();
  std::vector<SlabLayer> layers{sheet_layer(bench)};
  const std::size_t sheet_cells = layers.front().widths_m.size();
  if (c.air.towel_W_s05_m2K) layers.push_back(towel_layer(*c.air.towel_W_s05_m2K));
  Slab slab(layers, Face::insulated(), Face::insulated(),
            {c.accuracy.tolerance_K, first_step_s, longest_step_s});
  lift_out(bench, sheet_cells, slab);
  return slab;
}

}  // namespace

void SettingWatch::see(const std::array<double, 3>& time_s, const std::array<double, 3>& mean_share) {
  closes_.see(time_s, mean_share);
  holds_.see(time_s, mean_share);
  set_.see(time_s, mean_share);
}

Setting SettingWatch::setting(double until_s) const {
  const auto by_then = [until_s](const std::optional<double>& t) {
    return t && *t <= until_s ? t : std::nullopt;
  };
  return {by_then(closes_.time_s()), by_then(holds_.time_s()), by_then(set_.time_s())};
}

Bench::Bench(const Case& c)
    : case_(c),
      kinetics_(c.sheet.kinetics),
      outer_(face_tables(c, outer_facing(c.air))),
      inner_(c.air.upright ? FaceTables{} : face_tables(c, Facing::downward)),
      on_limb_(face_tables(c, Facing::sideways)) {}

SlabLayer sheet_layer(const Bench& bench) {
  const SheetCase& sheet = bench.of().sheet;
  return {.conductivity_W_mK = sheet.conductivity_W_mK,
          .phases = sheet.phases,
          .widths_m = widths_fine_at_both_faces(sheet.cooling_thickness_m() * sheet.layers,
                                                bench.of().accuracy.sheet_cells, growth_inward),
          .kinetics = &bench.kinetics()};
}

std::array<double, 3> mean_shares(const Slab& slab, const SlabStep& step, std::size_t sheet_cells) {
  std::array<double, 3> shares{};
  for (std::size_t i = 0; i < shares.size(); ++i)
    shares[i] = slab.mean_crystallinity(*step.state[i], 0, sheet_cells);
  return shares;
}

DryingFace::DryingFace(const FaceTables& tables, double water_kg_m2, double resistance_m2K_W)
    : tables_(&tables),
      resistance_m2K_W_(resistance_m2K_W),
      water_kg_m2_(water_kg_m2),
      dry_below_kg_m2_(dry_share * water_kg_m2) {}

Face DryingFace::face() const {
  return Face::losing(water_kg_m2_ > 0.0 ? tables_->wet : tables_->dry, resistance_m2K_W_);
}

double DryingFace::next_stop_s(double now_s, double surface_K, double until_s) const {
  const double leaving = water_kg_m2_ > 0.0 ? tables_->evaporation.at(surface_K).W_m2 : 0.0;
  return leaving > 0.0 ? std::min(until_s, now_s + water_kg_m2_ / leaving) : until_s;
}

bool DryingFace::dry(const SlabStep& step, const std::array<double, 3>& surface_K) {
  if (water_kg_m2_ <= 0.0) return false;
  for (std::size_t i = 0; i < surface_K.size(); ++i)
    water_kg_m2_ -= step.weight_s[i] * std::max(0.0, tables_->evaporation.at(surface_K[i]).W_m2);
  if (water_kg_m2_ > dry_below_kg_m2_) return false;
  water_kg_m2_ = 0.0;
  return true;
}

AirRun::AirRun(const Bench& bench)
    : sheet_cells_(sheet_layer(bench).widths_m.size()),
      outer_(bench.outer_in_air(), bench.of().air.water_kg_m2),
      inner_(bench.inner_in_air(), soaks_away(bench.of().air) ? 0.0 : bench.of().air.water_kg_m2),
      slab_(sheet_lifted_out(bench)),
      replay_(slab_) {
  slab_.set_faces(outer_.face(), inner_face(), first_step_s);
  seen_.push_back(snapshot());
}

Face AirRun::inner_face() const {
  return on_towel() ? Face::insulated() : inner_.face();
}

SheetState AirRun::snapshot() const {
  const SlabState& s = slab_.state();
  const auto towel_at = [this](const std::vector<double>& cells) {
    return cells.begin() + static_cast<std::ptrdiff_t>(sheet_cells_);
  };
  return {.time_s = slab_.time_s(),
          .temperature_K = {s.temperature_K.begin(), towel_at(s.temperature_K)},
          .progress = {s.progress.begin(), towel_at(s.progress)},
          .towel_K = {towel_at(s.temperature_K), s.temperature_K.end()},
          .outer_water_kg_m2 = outer_.water_kg_m2(),
          .inner_water_kg_m2 = inner_.water_kg_m2(),
          .outer_surface_K = s.left_surface_K,
          .inner_surface_K = on_towel() ? slab_.interface_K(s, sheet_cells_) : s.right_surface_K,
          .mean_K = slab_.mean_temperature(s, 0, sheet_cells_),
          .mean_share = slab_.mean_crystallinity(s, 0, sheet_cells_)};
}

/// Steps of their natural length until `until_s` is behind.
void AirRun::go_on(double until_s) {
  while (slab_.time_s() <= until_s) {
    const SlabState& now = slab_.state();
    double stop_s = slab_.time_s() + longest_step_s;
    stop_s = outer_.next_stop_s(slab_.time_s(), now.left_surface_K, stop_s);
    stop_s = inner_.next_stop_s(slab_.time_s(), now.right_surface_K, stop_s);
    const SlabStep step = slab_.step(stop_s);
    setting_.see(step.time_s, mean_shares(slab_, step, sheet_cells_));
    const auto surface = [&](double SlabState::*side) {
      return std::array{step.state[0]->*side, step.state[1]->*side, step.state[2]->*side};
    };
    const bool outer_dry = outer_.dry(step, surface(&SlabState::left_surface_K));
    const bool inner_dry = inner_.dry(step, surface(&SlabState::right_surface_K));
    if (outer_dry || inner_dry) slab_.set_faces(outer_.face(), inner_face(), resumed_step_s);
    seen_.push_back(snapshot());
  }
}

SheetState AirRun::at(double time_s) {
  go_on(time_s);
  const auto after = std::upper_bound(seen_.begin(), seen_.end(), time_s,
                                      [](double t, const SheetState& s) { return t < s.time_s; });
  const SheetState& from = *std::prev(after);
  if (from.time_s == time_s) return from;
  // The faces of the run are ahead; for a stretch within one step only wet or dry matters.
  const double outer_ahead = outer_.water_kg_m2();
  const double inner_ahead = inner_.water_kg_m2();
  outer_.set_water(from.outer_water_kg_m2);
  inner_.set_water(from.inner_water_kg_m2);
  replay_.set_cells(0, from.temperature_K, from.progress);
  replay_.set_cells(sheet_cells_, from.towel_K, std::vector<double>(from.towel_K.size(), 0.0));
  replay_.set_faces(outer_.face(), inner_face(), resumed_step_s);
  replay_.restart(from.time_s, resumed_step_s);
  while (replay_.time_s() < time_s) {
    const SlabStep step = replay_.step(time_s);
    outer_.dry(step,
               {step.state[0]->left_surface_K, step.state[1]->left_surface_K, step.state[2]->left_surface_K});
    inner_.dry(step, {step.state[0]->right_surface_K, step.state[1]->right_surface_K,
                      step.state[2]->right_surface_K});
  }
  std::swap(slab_, replay_);
  SheetState state = snapshot();
  std::swap(slab_, replay_);
  outer_.set_water(outer_ahead);
  inner_.set_water(inner_ahead);
  return state;
}

std::optional<double> AirRun::time_of(const ContactGuess& like, double longest_s) {
  const auto reached = [&](const SheetState& s) {
    return s.mean_K <= like.mean_K && s.mean_share >= like.mean_share;
  };
  for (std::size_t i = 0;; ++i) {
    if (i >= seen_.size()) go_on(seen_.back().time_s);
    const SheetState& now = seen_[i];
    if (now.time_s >= longest_s) return std::nullopt;
    if (!reached(now)) continue;
    if (i == 0 || like.mean_share > 0.0) return now.time_s;
    const SheetState& before = seen_[i - 1];
    return before.time_s +
           (now.time_s - before.time_s) * (before.mean_K - like.mean_K) / (before.mean_K - now.mean_K);
  }
}

double AirRun::drift_K_s(double time_s) {
  go_on(time_s);
  const auto after = std::upper_bound(seen_.begin(), seen_.end(), time_s,
                                      [](double t, const SheetState& s) { return t < s.time_s; });
  const SheetState& a = *std::prev(after);
  return (after->mean_K - a.mean_K) / (after->time_s - a.time_s);
}

Setting AirRun::setting_until(double time_s) {
  go_on(time_s);
  return setting_.setting(time_s);
}

Track AirRun::track_until(double time_s, double SheetState::*value) {
  go_on(time_s);
  Track track;
  for (const SheetState& s : seen_) {
    if (s.time_s > time_s) break;
    track.time_s.push_back(s.time_s);
    track.value.push_back(s.*value);
  }
  return track;
}

Track AirRun::outer_surface_until(double time_s) {
  return track_until(time_s, &SheetState::outer_surface_K);
}
Track AirRun::crystallinity_until(double time_s) {
  return track_until(time_s, &SheetState::mean_share);
}

}  // namespace warmsheet::heat
