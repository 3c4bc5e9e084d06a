// SPDX-License-Identifier: MIT
#include "heat/bath.h"

#include <algorithm>
#include <array>

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

double step_tolerance_K(const Case& c) {
  const double rest_K = c.bath.bath_K - c.sheet.phases.melting_end_K;
  return std::min(c.accuracy.bath_tolerance_K, std::max(tolerance_of_rest * rest_K, least_tolerance_K));
}

/// Mid-plane from the two cells next to it: a parabola that is level there by symmetry.
class MidPlane {
 public:
  explicit MidPlane(const Slab& slab) {
    const double first = half * slab.width_m(0);
    const double second = slab.width_m(0) + half * slab.width_m(1);
    share_ = first * first / (second * second - first * first);
  }
  [[nodiscard]] double K(const SlabState& s) const {
    return s.temperature_K[0] + share_ * (s.temperature_K[0] - s.temperature_K[1]);
  }

 private:
  double share_;
};

Slab slab_in_bath(const Case& c) {
  const SheetCase& sheet = c.sheet;
  const SlabLayer layer{
      .conductivity_W_mK = sheet.conductivity_W_mK,
      .phases = sheet.phases,
      .widths_m = growing_widths(half_thickness_m(sheet), c.accuracy.bath_cells, growth_to_face)};
  Slab slab({layer}, Face::insulated(), Face::film(c.bath.film_W_m2K, c.bath.bath_K),
            {step_tolerance_K(c), first_step_s, longest_step_s});
  slab.set_crystallinity(c.bath.start_crystallinity);
  slab.set_temperature([&](double) { return c.bath.start_K; });
  return slab;
}

}  // namespace

double half_thickness_m(const SheetCase& sheet) {
  const double b = sheet.thickness_m;
  if (sheet.open_area <= 0.0) return half * b;
  const double solid = 1.0 - sheet.open_area;
  // Wall of a hole per plan area: its rim 4/d times the open area, times the thickness.
  const double walls = 4.0 * sheet.open_area * b / sheet.hole_diameter_m;
  return b * solid / (2.0 * solid + walls);
}

BathRun run_bath(const Case& c, double longest_s, bool record) {
  Slab slab = slab_in_bath(c);
  const MidPlane middle(slab);
  const std::size_t n = slab.cells();
  RiseWatch half_molten(half);
  RiseWatch past_melting(c.sheet.phases.melting_end_K);
  BathRun run;
  double until_s = longest_s;
  const double plan_share = c.sheet.open_area > 0.0 ? 1.0 - c.sheet.open_area : 1.0;
  const double heat_per_plan = plan_share * c.sheet.thickness_m / half_thickness_m(c.sheet);
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
    }
    if (past_melting.time_s() && !run.ready_s) {
      run.ready_s = past_melting.time_s();
      run.heat_J_m2 = heat_per_plan * slab.gained_J_m2();
      if (!record) break;
      until_s = std::min(longest_s, recorded_beyond_ready * slab.time_s());
    }
  }
  if (!run.ready_s) run.heat_J_m2 = heat_per_plan * slab.gained_J_m2();
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
  Slab slab = slab_in_bath(c);
  while (slab.time_s() < time_s) slab.step(time_s);
  BathProfile profile;
  double edge_m = 0.0;
  for (std::size_t i = 0; i < slab.cells(); ++i) {
    profile.place.push_back((edge_m + half * slab.width_m(i)) / half_thickness_m(c.sheet));
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
