// SPDX-License-Identifier: MIT
// The sheet from the moment it leaves the bath until it is laid on: it cools in air on both faces, dries, and
// in the end crystallises.
//
// It is taken to leave the bath soaked, at the bath's temperature throughout: hotter than at the moment it is
// ready, so the wait before skin errs long; the end of shaping moves by the same few seconds, so the window
// hardly changes.
//
// A towel that it lies on is as deep as the heat gets within the run, and starts at the room's temperature:
// it takes more than air in the first minute and less from then on. What patting left under the sheet soaks
// into it and cools nothing.
#pragma once

#include <optional>
#include <vector>

#include "heat/bath.h"
#include "heat/case.h"
#include "heat/instants.h"

namespace warmsheet::heat {

/// Mean relative crystallinity at which the sheet stiffens, holds its shape and is set.
inline constexpr double stiffening_share = 0.05;
inline constexpr double holding_share = 0.50;
inline constexpr double set_share = 0.95;

/// When those were reached, in seconds since removal.
struct Setting {
  std::optional<double> closes_s;
  std::optional<double> holds_s;
  std::optional<double> set_s;
};

class SettingWatch {
 public:
  void see(const std::array<double, 3>& time_s, const std::array<double, 3>& mean_share);
  [[nodiscard]] bool complete() const { return set_.time_s().has_value(); }
  /// What was reached by `until_s`.
  [[nodiscard]] Setting setting(double until_s) const;

 private:
  RiseWatch closes_{stiffening_share};
  RiseWatch holds_{holding_share};
  RiseWatch set_{set_share};
};

/// What a face loses in air, with water on it and without.
struct FaceTables {
  LossTable dry;
  LossTable wet;          ///< empty if no water is left on the sheet
  LossTable evaporation;  ///< kg/m2s; empty likewise
};

/// One case with what is tabulated for it once and asked for in every step.
class Bench {
 public:
  explicit Bench(const Case& c);
  Bench(const Bench&) = delete;  // runs hold pointers into it
  Bench& operator=(const Bench&) = delete;

  [[nodiscard]] const Case& of() const { return case_; }
  [[nodiscard]] const Kinetics& kinetics() const { return kinetics_; }
  [[nodiscard]] const FaceTables& outer_in_air() const { return outer_; }
  [[nodiscard]] const FaceTables& inner_in_air() const { return case_.air.upright ? outer_ : inner_; }
  [[nodiscard]] const FaceTables& outer_on_limb() const { return on_limb_; }

 private:
  Case case_;
  Kinetics kinetics_;
  FaceTables outer_;
  FaceTables inner_;
  FaceTables on_limb_;
};

/// The sheet in the solver: all layers of it, fine at both faces.
SlabLayer sheet_layer(const Bench& bench);
/// \pre `slab` holds the sheet in its first `sheet_cells` cells
std::array<double, 3> mean_shares(const Slab& slab, const SlabStep& step, std::size_t sheet_cells);

/// A face that may still be wet: switches to dry when its water is gone.
class DryingFace {
 public:
  /// `tables` must outlive the face.
  DryingFace(const FaceTables& tables, double water_kg_m2, double resistance_m2K_W = 0.0);

  [[nodiscard]] Face face() const;
  [[nodiscard]] double water_kg_m2() const { return water_kg_m2_; }
  void set_water(double water_kg_m2) { water_kg_m2_ = water_kg_m2; }
  /// The next moment worth stopping at: about when the water will be gone. Never beyond `until_s`.
  [[nodiscard]] double next_stop_s(double now_s, double surface_K, double until_s) const;
  /// Takes off what evaporated; true if the face fell dry.
  bool dry(const SlabStep& step, const std::array<double, 3>& surface_K);

 private:
  const FaceTables* tables_;
  double resistance_m2K_W_;
  double water_kg_m2_;
  double dry_below_kg_m2_;
};

/// The sheet at one moment.
struct SheetState {
  double time_s = 0.0;                ///< since removal
  std::vector<double> temperature_K;  ///< of the sheet's cells
  std::vector<double> progress;       ///< likewise
  std::vector<double> towel_K;        ///< from the sheet down; empty if it lies in free air
  double outer_water_kg_m2 = 0.0;
  double inner_water_kg_m2 = 0.0;
  double outer_surface_K = 0.0;
  double inner_surface_K = 0.0;
  double mean_K = 0.0;
  double mean_share = 0.0;  ///< relative crystallinity
};

/// What a sheet was like when it could be laid on in a similar case: as cool as this and as far crystallised.
struct ContactGuess {
  double mean_K;
  double mean_share = 0.0;
};

class AirRun {
 public:
  /// `bench` must outlive the run. Nothing is computed before somebody asks.
  explicit AirRun(const Bench& bench);

  /// Any time >= 0, in any order.
  SheetState at(double time_s);
  /// First moment the sheet looks like this; nothing by `longest_s`.
  std::optional<double> time_of(const ContactGuess& like, double longest_s);
  /// dT/dt of the mean there, negative while it cools, K/s.
  double drift_K_s(double time_s);
  Setting setting_until(double time_s);
  Track outer_surface_until(double time_s);
  Track crystallinity_until(double time_s);

 private:
  void go_on(double until_s);
  /// Below the sheet's cells lie only those of a towel.
  [[nodiscard]] bool on_towel() const { return slab_.cells() > sheet_cells_; }
  [[nodiscard]] Face inner_face() const;
  [[nodiscard]] SheetState snapshot() const;
  Track track_until(double time_s, double SheetState::*value);

  std::size_t sheet_cells_;
  DryingFace outer_;
  DryingFace inner_;
  Slab slab_;
  Slab replay_;
  std::vector<SheetState> seen_;
  SettingWatch setting_;
};

}  // namespace warmsheet::heat
