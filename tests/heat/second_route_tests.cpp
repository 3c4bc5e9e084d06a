// SPDX-License-Identifier: MIT
// The whole chain by a second, independent route: an explicit scheme on a fine uniform grid, temperature and
// crystallinity as separate unknowns, Nakamura's equation in its differential form, no tables, no adaptive
// steps, no Newton. Only the laws of the surroundings (air.h), the half-time and the rate of damage are
// shared; each has its own tests against books.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "heat/cases.h"
#include "heat/chain.h"
#include "support/near.h"

namespace warmsheet::heat_tests {
namespace {

using testing::near_abs;
using testing::near_rel;

struct Cell {
  double width_m, conductivity, density, heat, blood_W_m3K;
  double T, X = 0.0;
  bool sheet = false;
};

struct BathTimes {
  double half_soft_s = 0.0;
  double ready_s = 0.0;
};

/// Enthalpy per mass against temperature, 0 where melting starts; in the range the mean of both heats.
struct Melting {
  double solid, melt, latent, start, end;
  [[nodiscard]] double whole() const { return latent + 0.5 * (solid + melt) * (end - start); }
  [[nodiscard]] double enthalpy(double T) const {
    if (T <= start) return solid * (T - start);
    return T >= end ? whole() + melt * (T - end) : whole() * (T - start) / (end - start);
  }
  [[nodiscard]] double temperature(double h) const {
    if (h <= 0.0) return start + h / solid;
    return h >= whole() ? end + (h - whole()) / melt : start + (end - start) * h / whole();
  }
  [[nodiscard]] double molten(double T) const { return std::clamp((T - start) / (end - start), 0.0, 1.0); }
};

BathTimes explicit_bath(const Case& c) {
  const SheetCase& sheet = c.sheet;
  const Phases& p = sheet.phases;
  const Melting law{p.heat_solid_J_kgK, p.heat_melt_J_kgK, p.latent_J_kg, p.melting_start_K, p.melting_end_K};
  constexpr std::size_t n = 40;
  const double dx = 0.5 * sheet.thickness_m / n;
  const double dt = 0.4 * dx * dx * p.density_kg_m3 * std::min(p.heat_solid_J_kgK, p.heat_melt_J_kgK) /
                    (2.0 * sheet.conductivity_W_mK);
  std::vector<double> h(n, law.enthalpy(c.bath.start_K));
  std::vector<double> T(n, c.bath.start_K);
  BathTimes found;
  // Half of the bath's water lies before each face and gives what that face takes.
  const double water_J_m2K = c.bath.water_m3 * water_density_kg_m3 * water_heat_J_kgK / (2.0 * c.air.area_m2);
  double water_K = c.bath.bath_K;
  const double edge = 1.0 / (0.5 * dx / sheet.conductivity_W_mK + 1.0 / c.bath.film_W_m2K);
  double last_middle = c.bath.start_K;
  double last_molten = 0.0;
  for (double t = dt; found.ready_s == 0.0; t += dt) {
    double entering = 0.0;
    double molten = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      const double leaving =
          i + 1 < n ? sheet.conductivity_W_mK / dx * (T[i] - T[i + 1]) : edge * (T[i] - water_K);
      h[i] += dt * (entering - leaving) / (dx * p.density_kg_m3);
      entering = leaving;
    }
    water_K += dt * entering / water_J_m2K;
    for (std::size_t i = 0; i < n; ++i) {
      T[i] = law.temperature(h[i]);
      molten += law.molten(T[i]) / n;
    }
    const double middle = T[0] + (T[0] - T[1]) / 8.0;
    if (found.half_soft_s == 0.0 && molten >= 0.5)
      found.half_soft_s = t - dt * (molten - 0.5) / (molten - last_molten);
    if (middle >= p.melting_end_K)
      found.ready_s = t - dt * (middle - p.melting_end_K) / (middle - last_middle);
    last_middle = middle;
    last_molten = molten;
  }
  return found;
}

struct AfterRemoval {
  double closes_s = 0.0, holds_s = 0.0, set_s = 0.0, peak_K = 0.0, damage = 0.0;
};

class ExplicitChain {
 public:
  ExplicitChain(const Case& c, double contact_s)
      : c_(c), contact_s_(contact_s), plate_{c.air.area_m2, c.sheet.emissivity} {
    add(sheet_cells, c.sheet.thickness_m, c.sheet.conductivity_W_mK, c.sheet.phases.density_kg_m3,
        c.sheet.phases.heat_melt_J_kgK, 0.0);
    for (Cell& cell : cells_) {
      cell.sheet = true;
      cell.T = c.bath.bath_K;
      cell.X = c.sheet.kinetics.seed;
    }
    const std::vector<std::size_t> counts{6, 40, 50};
    for (std::size_t i = 0; i < counts.size(); ++i) {
      const TissueLayer& l = c.limb.tissue.layers[i];
      add(counts[i], l.thickness_m, l.conductivity_W_mK, l.density_kg_m3, l.heat_J_kgK,
          l.perfusion_per_s * c.limb.tissue.blood_density_kg_m3 * c.limb.tissue.blood_heat_J_kgK);
    }
    double depth = 0.0;
    for (std::size_t i = sheet_cells; i < cells_.size(); ++i) {
      depth += 0.5 * cells_[i].width_m;
      cells_[i].T = resting_temperature_K(c.limb.tissue, depth);
      depth += 0.5 * cells_[i].width_m;
    }
    outer_water_ = inner_water_ = c.air.water_kg_m2;
    if (!c.air.towel_W_s05_m2K) return;
    inner_water_ = 0.0;
    towel_J_m3K_ = *c.air.towel_W_s05_m2K * *c.air.towel_W_s05_m2K / towel_W_mK;
    towel_K_.assign(160, c.air.room.air_K);
  }

  AfterRemoval run() {
    const double skin_step_s = 0.8e-3;
    const double air_step_s = 4e-3;
    double t = 0.0;
    while (found_.set_s == 0.0) {
      const bool on_limb = t >= contact_s_ - 1e-9;
      const double dt = on_limb ? skin_step_s : std::min(air_step_s, contact_s_ - t);
      on_limb ? step_on_limb(dt) : step_in_air(dt);
      t += dt;
      note(t);
    }
    return found_;
  }

 private:
  static constexpr std::size_t sheet_cells = 32;

  void add(std::size_t count, double thickness, double k, double density, double heat, double blood) {
    for (std::size_t i = 0; i < count; ++i)
      cells_.push_back({thickness / static_cast<double>(count), k, density, heat, blood, 0.0});
  }

  double face_loss(double T_cell, const Cell& cell, Facing facing, double& water, double dt) {
    // Surface from two rounds of substitution; the half cell is 50 um thick.
    const double half = 0.5 * cell.width_m / cell.conductivity;
    double surface = T_cell;
    double loss = 0.0;
    for (int round = 0; round < 3; ++round) {
      loss = water > 0.0 ? wet_loss_W_m2(plate_, facing, c_.air.room, surface)
                         : dry_loss_W_m2(plate_, facing, c_.air.room, surface);
      surface = T_cell - half * loss;
    }
    if (water > 0.0) water -= dt * evaporation_kg_m2s(plate_, facing, c_.air.room, surface);
    return loss;
  }

  void crystallise(Cell& cell, double dt) {
    const KineticConstants& k = c_.sheet.kinetics;
    const double t_half = half_time_s(k, cell.T);
    if (std::isinf(t_half) || cell.X >= 1.0 - 1e-9) return;
    const double K = std::pow(std::numbers::ln2, 1.0 / k.avrami) / t_half;
    const double dX =
        dt * k.avrami * K * (1.0 - cell.X) * std::pow(-std::log1p(-cell.X), (k.avrami - 1.0) / k.avrami);
    // Heat set free at T: that of the whole transition from the supercooled melt, the crystals having their
    // own melting point (end - X range), with the heats of both phases mixed by X.
    const Phases& p = c_.sheet.phases;
    const double range = p.melting_end_K - p.melting_start_K;
    const double above = p.melting_end_K - cell.X * range - cell.T;
    const double released = p.latent_J_kg + 0.5 * (p.heat_solid_J_kgK + p.heat_melt_J_kgK) * range +
                            (p.heat_solid_J_kgK - p.heat_melt_J_kgK) * above - cell.heat * range;
    cell.X += dX;
    cell.T += released * dX / cell.heat;
    cell.heat = cell.X * p.heat_solid_J_kgK + (1.0 - cell.X) * p.heat_melt_J_kgK;
  }

  void conduct(std::size_t first, std::size_t last, double loss_left, double loss_right, double dt) {
    double entering = -loss_left;
    std::vector<double>& change = change_;
    change.assign(cells_.size(), 0.0);
    for (std::size_t i = first; i < last; ++i) {
      double leaving = loss_right;
      if (i + 1 < last) {
        const Cell& a = cells_[i];
        const Cell& b = cells_[i + 1];
        double resistance = 0.5 * a.width_m / a.conductivity + 0.5 * b.width_m / b.conductivity;
        if (a.sheet && !b.sheet) resistance += c_.limb.contact_m2K_W + c_.limb.liner_m2K_W;
        leaving = (a.T - b.T) / resistance;
      }
      const Cell& cell = cells_[i];
      const double blood = cell.blood_W_m3K * (c_.limb.tissue.core_K - cell.T);
      change[i] = dt * ((entering - leaving) / cell.width_m + blood) / (cell.density * cell.heat);
      entering = leaving;
    }
    for (std::size_t i = first; i < last; ++i) cells_[i].T += change[i];
    for (std::size_t i = 0; i < sheet_cells; ++i) crystallise(cells_[i], dt);
  }

  void step_in_air(double dt) {
    const double outer = face_loss(cells_[0].T, cells_[0], Facing::upward, outer_water_, dt);
    const Cell& inmost = cells_[sheet_cells - 1];
    const double inner = towel_K_.empty() ? face_loss(inmost.T, inmost, Facing::downward, inner_water_, dt)
                                          : into_towel(inmost, dt);
    conduct(0, sheet_cells, outer, inner, dt);
  }

  /// Cells of a quarter of a millimetre, 40 mm deep: an hour's way of heat.
  double into_towel(const Cell& inmost, double dt) {
    const double half = 0.5 * inmost.width_m / inmost.conductivity + 0.5 * towel_cell_m / towel_W_mK;
    const double taken = (inmost.T - towel_K_.front()) / half;
    double entering = taken;
    for (std::size_t i = 0; i < towel_K_.size(); ++i) {
      const double leaving =
          i + 1 < towel_K_.size() ? towel_W_mK / towel_cell_m * (towel_K_[i] - towel_K_[i + 1]) : 0.0;
      towel_K_[i] += dt * (entering - leaving) / (towel_cell_m * towel_J_m3K_);
      entering = leaving;
    }
    return taken;
  }

  void step_on_limb(double dt) {
    const double outer = face_loss(cells_[0].T, cells_[0], Facing::sideways, outer_water_, dt);
    const Cell& core = cells_.back();
    const double out = (core.T - c_.limb.tissue.core_K) / (0.5 * core.width_m / core.conductivity);
    conduct(0, cells_.size(), outer, out, dt);
    const Cell& a = cells_[sheet_cells + 5];
    const Cell& b = cells_[sheet_cells + 6];
    const double ra = 0.5 * a.width_m / a.conductivity;
    const double rb = 0.5 * b.width_m / b.conductivity;
    const double basal = (a.T * rb + b.T * ra) / (ra + rb);
    found_.peak_K = std::max(found_.peak_K, basal);
    found_.damage += dt * damage_rate_per_s(c_.limb.tissue.damage, basal);
  }

  void note(double t) {
    double X = 0.0;
    for (std::size_t i = 0; i < sheet_cells; ++i) X += cells_[i].X / sheet_cells;
    if (found_.closes_s == 0.0 && X >= 0.05) found_.closes_s = t;
    if (found_.holds_s == 0.0 && X >= 0.50) found_.holds_s = t;
    if (found_.set_s == 0.0 && X >= 0.95) found_.set_s = t;
  }

  const Case& c_;
  double contact_s_;
  Plate plate_;
  std::vector<Cell> cells_;
  std::vector<double> change_;
  double outer_water_;
  double inner_water_;
  // Only the root of conductivity times heat per volume is the towel's; the split is not the model's.
  static constexpr double towel_W_mK = 0.04;
  static constexpr double towel_cell_m = 0.25e-3;
  double towel_J_m3K_ = 0.0;
  std::vector<double> towel_K_;
  AfterRemoval found_;
};

TEST_CASE("the bath by the second route agrees within 0.2 per cent, its own cooling included") {
  for (const double mm : {1.6, 3.2})
    for (const double litres : {2.0, 12.0}) {
      CAPTURE(mm);
      CAPTURE(litres);
      Case c = usual(neat(mm * 1e-3));
      c.bath.water_m3 = litres * 1e-3;
      c.bath.cools = true;
      const BathTimes other = explicit_bath(c);
      const BathRun run = run_bath(c, 3600.0);
      CHECK(near_rel(*run.half_soft_s, other.half_soft_s, 2e-3));
      CHECK(near_rel(*run.ready_s, other.ready_s, 2e-3));
    }
}

/// Temperatures as the rise over the 32.5 C the skin starts from; damage is an exponential of it, so 2 %.
void check_after(const Case& c, double contact_s) {
  const AfterRemoval other = ExplicitChain(c, contact_s).run();
  const AfterContact after = after_contact(c, contact_s);
  CHECK(near_rel(after.peak_K - kelvin(32.5), other.peak_K - kelvin(32.5), 2e-3));
  CHECK(near_rel(after.closes_s, other.closes_s, 2e-3));
  CHECK(near_rel(after.holds_s, other.holds_s, 2e-3));
  CHECK(near_rel(after.set_s, other.set_s, 2e-3));
  if (other.damage > 1e-6) CHECK(near_rel(after.damage, other.damage, 0.02));
}

TEST_CASE("air, limb and skin by the second route agree within 0.2 per cent") {
  for (const double contact_s : {25.0, 90.0}) {
    CAPTURE(contact_s);
    check_after(usual(neat(3.2e-3)), contact_s);
  }
  Case lined = usual(elastic(2.4e-3));
  lined.limb.liner_m2K_W = 0.015;
  check_after(lined, 20.0);
  for (const double contact_s : {20.0, 240.0}) {
    CAPTURE(contact_s);
    Case on_towel = usual(elastic(3.2e-3));
    on_towel.air.towel_W_s05_m2K = 100.0;
    check_after(on_towel, contact_s);
  }
}

TEST_CASE("the wait is the second route's too: there its skin just reaches the limit, sooner it passes it") {
  const Case c = usual(elastic(3.2e-3));
  const double wait_s = before_contact(c).wait_s;
  REQUIRE(wait_s > 5.0);
  // 0.02 K is 0.2 % of the rise from 32.5 to 43 C.
  CHECK(near_abs(ExplicitChain(c, wait_s).run().peak_K, c.limb.peak_limit_K, 0.02));
  CHECK(ExplicitChain(c, wait_s - 4.0).run().peak_K > c.limb.peak_limit_K + 0.05);
}

}  // namespace
}  // namespace warmsheet::heat_tests
