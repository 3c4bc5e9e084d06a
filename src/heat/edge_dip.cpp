// SPDX-License-Identifier: MIT
#include "heat/edge_dip.h"

#include "heat/slab.h"

namespace warmsheet::heat {
namespace {

// Heat creeps 7 mm in two minutes (sqrt(alpha t) with alpha 1e-7 m2/s is 3.5 mm); four times that is as good
// as endless.
constexpr double length_m = 0.03;
constexpr std::size_t cells = 40;
constexpr double growth_outward = 1.06;
constexpr double half = 0.5;

/// Along the sheet, with the loss of both faces to the air taken as heat exchanged in the volume. The film is
/// that of a face at the bath's temperature: the largest, but it acts on the hottest few millimetres only.
Slab fin(const Case& c) {
  const Plate plate{c.air.area_m2, c.sheet.emissivity};
  const double air_K = c.air.room.air_K;
  const double above_K = c.bath.bath_K - air_K;
  const double film =
      above_K > 0.0 ? dry_loss_W_m2(plate, Facing::sideways, c.air.room, c.bath.bath_K) / above_K : 0.0;
  const SlabLayer layer{.conductivity_W_mK = c.sheet.conductivity_W_mK,
                        .phases = c.sheet.phases,
                        .widths_m = growing_widths(length_m, cells, growth_outward),
                        .perfusion_W_m3K = 2.0 * film / c.sheet.thickness_m,
                        .perfusion_K = air_K};
  Slab slab({layer}, Face::held(c.bath.bath_K), Face::insulated(), {c.accuracy.tolerance_K, 1e-2, 30.0});
  slab.set_temperature([&](double) { return c.bath.start_K; });
  return slab;
}

}  // namespace

double edge_reach_m(const Case& c, double time_s) {
  Slab slab = fin(c);
  while (slab.time_s() < time_s) slab.step(time_s);
  double edge_m = 0.0;
  double last_place = 0.0;
  double last_share = 0.0;
  for (std::size_t i = 0; i < slab.cells(); ++i) {
    const double place = edge_m + half * slab.width_m(i);
    const double share = slab.crystallinity(slab.state(), i);
    if (share >= half) return last_place + (place - last_place) * (half - last_share) / (share - last_share);
    edge_m += slab.width_m(i);
    last_place = place;
    last_share = share;
  }
  return edge_m;
}

}  // namespace warmsheet::heat
