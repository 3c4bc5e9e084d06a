// SPDX-License-Identifier: MIT
#include "heat/bath.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "heat/constants.h"
#include "heat/instants.h"

namespace warmsheet::heat {
namespace {

// Finer at the wetted face, where the first seconds happen; each cell this much thinner than its neighbour
// within.
constexpr double growth_to_face = 0.93;
constexpr double first_step_s = 1e-3;
constexpr double longest_step_s = 30.0;
constexpr double recorded_beyond_ready = 1.5;
constexpr double half = 0.5;
// Near the end the mid-plane creeps towards the bath: an error there counts against what is left between the
// melting end and the bath, not against the whole rise.
constexpr double tolerance_of_rest = 1e-3;
constexpr double least_tolerance_K = 1e-3;
// Stirred by its own currents: what holds heat back is the film alone.
constexpr double well_mixed_W_m2K = 1e9;
constexpr double least_above_K = 1.0;

double step_tolerance_K(const Case& c) {
  const double rest_K = c.bath.bath_K - c.sheet.phases.melting_end_K;
  return std::min(c.accuracy.bath_tolerance_K, std::max(tolerance_of_rest * rest_K, least_tolerance_K));
}

/// Mid-plane from the two cells next to it: a parabola that is level there by symmetry.
class MidPlane {
 public:
  MidPlane(const Case& c, const Slab& slab) {
    if (c.bath.one_face) return;
    const double first = half * slab.width_m(0);
    const double second = slab.width_m(0) + half * slab.width_m(1);
    share_ = first * first / (second * second - first * first);
  }
  [[nodiscard]] double K(const SlabState& s) const {
    return s.temperature_K[0] + share_ * (s.temperature_K[0] - s.temperature_K[1]);
  }

 private:
  double share_ = 0.0;  // the dry face: as warm as its cell, which errs short by a fiftieth of a kelvin
};

double depth_m(const Case& c) {
  return half_thickness_m(c.sheet, c.bath.one_face);
}

/// Of the sheet itself: water in its holes shortens the time, not the way to its middle.
double deepest_m(const Case& c) {
  return c.bath.one_face ? c.sheet.thickness_m : half * c.sheet.thickness_m;
}

/// Wetted area for each area of the blank's face.
double wetted_share(const Case& c) {
  return (1.0 - c.sheet.open_area) * c.sheet.thickness_m / depth_m(c);
}

/// The bath's water, mixed throughout, for the wetted area it serves.
SlabLayer water_behind_film(const Case& c) {
  const double width_m = c.bath.water_m3 / (c.air.area_m2 * wetted_share(c));
  return {.conductivity_W_mK = well_mixed_W_m2K * width_m,
          .phases = Phases::unchanging(water_density_kg_m3, water_heat_J_kgK),
          .widths_m = {width_m},
          .resistance_before_m2K_W = 1.0 / c.bath.film_W_m2K};
}

/// The middle of the sheet; where one face only is wet, the other one, with the loss to the air it has when
/// the sheet melts.
Face far_face(const Case& c) {
  if (!c.bath.one_face) return Face::insulated();
  const Plate plate{c.air.area_m2, c.sheet.emissivity};
  const double melting_K = c.sheet.phases.melting_end_K;
  const double above_K = std::max(melting_K - c.air.room.air_K, least_above_K);
  return Face::film(dry_loss_W_m2(plate, Facing::downward, c.air.room, melting_K) / above_K,
                    c.air.room.air_K);
}

Slab slab_in_bath(const Case& c) {
  const SheetCase& sheet = c.sheet;
  std::vector<SlabLayer> layers{
      {.conductivity_W_mK = sheet.conductivity_W_mK,
       .phases = sheet.phases,
       .widths_m = growing_widths(depth_m(c), c.accuracy.bath_cells, growth_to_face)}};
  if (c.bath.cools) layers.push_back(water_behind_film(c));
  Slab slab(layers, far_face(c),
            c.bath.cools ? Face::insulated() : Face::film(c.bath.film_W_m2K, c.bath.bath_K),
            {step_tolerance_K(c), first_step_s, longest_step_s});
  slab.set_crystallinity(c.bath.start_crystallinity);
  slab.set_temperature([&](double x_m) { return x_m < depth_m(c) ? c.bath.start_K : c.bath.bath_K; });
  return slab;
}

/// What the water has given, per area of the blank's face.
double heat_J_m2(const Case& c, const Slab& slab) {
  if (!c.bath.cools) return wetted_share(c) * slab.gained_J_m2();
  const double fallen_K = c.bath.bath_K - slab.state().temperature_K.back();
  return fallen_K * c.bath.water_m3 * water_density_kg_m3 * water_heat_J_kgK / c.air.area_m2;
}

}  // namespace

/// Water in a hole warms the rim of it, while the core that melts last lies between the holes: counted in
/// full the walls would call it ready 9 to 28 % too soon. Half of them meets the core of a cell with its
/// hole, worked out in two dimensions, within 5 % (tests/heat/outside/unit_cell.py).
constexpr double walls_counted = 0.5;

double half_thickness_m(const SheetCase& sheet, bool one_face) {
  const double b = sheet.thickness_m;
  const double faces = one_face ? 1.0 : 2.0;
  if (sheet.open_area <= 0.0) return b / faces;
  const double solid = 1.0 - sheet.open_area;
  // Wall of a hole per plan area: its rim 4/d times the open area, times the thickness.
  const double walls = 4.0 * sheet.open_area * b / sheet.hole_diameter_m;
  return b * solid / (faces * solid + walls_counted * walls);
}

BathRun run_bath(const Case& c, double longest_s, bool record) {
  Slab slab = slab_in_bath(c);
  const MidPlane middle(c, slab);
  const std::size_t n = c.accuracy.bath_cells;
  RiseWatch half_molten(half);
  RiseWatch past_melting(c.sheet.phases.melting_end_K);
  BathRun run;
  double until_s = longest_s;
  while (slab.time_s() < until_s) {
    const SlabStep step = slab.step(until_s);
    std::array<double, 3> middle_K{};
    std::array<double, 3> molten{};
    for (std::size_t i = 0; i < molten.size(); ++i) {
      middle_K[i] = middle.K(*step.state[i]);
      molten[i] = half_molten.time_s() ? 1.0 : 1.0 - slab.mean_crystallinity(*step.state[i], 0, n);
    }
    half_molten.see(step.time_s, molten);
    past_melting.see(step.time_s, middle_K);
    if (record) {
      run.middle_K.time_s.push_back(step.time_s[2]);
      run.middle_K.value.push_back(middle_K[2]);
      run.molten_m.time_s.push_back(step.time_s[2]);
      run.molten_m.value.push_back(deepest_m(c) * (1.0 - slab.mean_crystallinity(*step.state[2], 0, n)));
    }
    if (past_melting.time_s() && !run.ready_s) {
      run.ready_s = past_melting.time_s();
      run.heat_J_m2 = heat_J_m2(c, slab);
      if (!record) break;
      until_s = std::min(longest_s, recorded_beyond_ready * slab.time_s());
    }
  }
  if (!run.ready_s) run.heat_J_m2 = heat_J_m2(c, slab);
  run.half_soft_s = half_molten.time_s();
  return run;
}

BathProfile::Point BathProfile::at(double where) const {
  const auto above = std::upper_bound(place.begin(), place.end(), where);
  if (above == place.begin()) return {temperature_K.front(), crystallinity.front()};
  if (above == place.end()) return {temperature_K.back(), crystallinity.back()};
  const auto i = static_cast<std::size_t>(above - place.begin());
  const double share = (where - place[i - 1]) / (place[i] - place[i - 1]);
  const auto between = [&](const std::vector<double>& v) { return v[i - 1] + share * (v[i] - v[i - 1]); };
  return {between(temperature_K), between(crystallinity)};
}

BathProfile bath_profile(const Case& c, double time_s) {
  Case kept = c;
  kept.bath.cools = false;
  Slab slab = slab_in_bath(kept);
  while (slab.time_s() < time_s) slab.step(time_s);
  BathProfile profile;
  double edge_m = 0.0;
  for (std::size_t i = 0; i < slab.cells(); ++i) {
    profile.place.push_back((edge_m + half * slab.width_m(i)) / depth_m(c));
    profile.temperature_K.push_back(slab.state().temperature_K[i]);
    profile.crystallinity.push_back(slab.crystallinity(slab.state(), i));
    edge_m += slab.width_m(i);
  }
  return profile;
}

double bath_drop_K(const Case& c, double heat_J_m2) {
  return heat_J_m2 * c.air.area_m2 / (c.bath.water_m3 * water_density_kg_m3 * water_heat_J_kgK);
}

}  // namespace warmsheet::heat
