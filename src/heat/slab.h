// SPDX-License-Identifier: MIT
// One-dimensional conduction through layers that may melt, crystallise and be perfused by blood: the one
// solver behind bath, air and limb.
//
// Problem: dH/dt = d/dx(k dT/dx) + w (T_blood - T) with H = H(T, X) (enthalpy.h) and X by Nakamura
// (crystallisation.h).
//
// Space: cell-centred finite volumes of any widths; the flux between two cells is that of two half cells in
// series (and a contact resistance where one stands), so the heat one cell loses is what the next one gains.
//
// Time: TR-BDF2, a trapezoidal stage to gamma = 2 - sqrt(2), then BDF2; second order and L-stable, so the
// jump at contact is damped. The embedded third-order weights give a step's error, which sets the next one.
//
// Nonlinear: Newton in H with dT/dH from the piecewise linear enthalpy (0 while something melts at one
// temperature is fine); the accepted H is recomputed from the fluxes, so energy closes to rounding whatever
// Newton left.
//
// References: Patankar, Numerical Heat Transfer and Fluid Flow (1980), 4.2; Bank et al., IEEE Trans. CAD 4
// (1985) 436; Hosea & Shampine, Appl. Numer. Math. 20 (1996) 21.
#pragma once

#include <array>
#include <cstddef>
#include <functional>
#include <vector>

#include "heat/crystallisation.h"
#include "heat/enthalpy.h"
#include "heat/surface.h"

namespace warmsheet::heat {

struct SlabLayer {
  double conductivity_W_mK;
  Phases phases;
  std::vector<double> widths_m;          ///< of the cells, from the left
  double perfusion_W_m3K = 0.0;          ///< w: heat exchanged with blood per kelvin
  double perfusion_K = 0.0;              ///< of that blood
  double resistance_before_m2K_W = 0.0;  ///< between this layer and the one to its left
  const Kinetics* kinetics = nullptr;    ///< null: melts and freezes in equilibrium; must outlive the slab
};

/// What x is: the way through a plate, or the way out from an axis or from a centre at x = 0. Heat per square
/// metre is then that of the outer face. Sheet and skin are plates; the others hold the solver to the
/// handbooks' cylinders and spheres.
enum class Shape { plate, cylinder, sphere };

/// `cells` widths that add up to `thickness_m`, each `growth` times its left neighbour.
std::vector<double> growing_widths(double thickness_m, std::size_t cells, double growth);
/// Symmetric: fine at both faces. \pre cells is even
std::vector<double> widths_fine_at_both_faces(double thickness_m, std::size_t cells, double growth);
std::vector<double> reversed(std::vector<double> widths);

struct SlabState {
  std::vector<double> enthalpy_J_m3;
  std::vector<double> temperature_K;
  std::vector<double> progress;  ///< Y of crystallisation.h; only where a layer has kinetics
  double left_surface_K = 0.0;
  double right_surface_K = 0.0;
  double left_outer_K = 0.0;
  double right_outer_K = 0.0;
};

struct StepControl {
  double tolerance_K = 0.02;  ///< allowed error of one step, as temperature of the solid
  double first_step_s = 1e-3;
  double longest_step_s = 60.0;
};

/// A step that was taken, seen at its start, at its inner stage and at its end: enough for a parabola through
/// any quantity (instants.h).
struct SlabStep {
  std::array<double, 3> time_s;
  std::array<const SlabState*, 3> state;
  /// Weights times step: sum of weight * rate is the integral of a rate over the step, as the solver itself
  /// counts.
  std::array<double, 3> weight_s;
};

class Slab {
 public:
  /// \pre at least one cell; throws std::logic_error on a width, conductivity or density that is not positive
  Slab(const std::vector<SlabLayer>& layers, Face left, Face right, StepControl control = {},
       Shape shape = Shape::plate);

  void set_temperature(const std::function<double(double x_m)>& temperature_K);
  /// Crystallinity of all cells of layers that have kinetics (others: where melting may start from).
  void set_crystallinity(double share);
  /// Continues from a state of the same number of cells, from `first_cell` on.
  void set_cells(std::size_t first_cell, const std::vector<double>& temperature_K,
                 const std::vector<double>& progress);
  void set_faces(Face left, Face right, double first_step_s);
  /// Short steps again from `time_s` on: after a jump in what surrounds the slab.
  void restart(double time_s, double first_step_s);

  /// Takes one step, not past `until_s`. \pre until_s > time_s(); throws std::runtime_error if no step
  /// converges
  SlabStep step(double until_s);

  [[nodiscard]] double time_s() const { return time_s_; }
  [[nodiscard]] std::size_t cells() const { return width_m_.size(); }
  [[nodiscard]] double width_m(std::size_t cell) const { return width_m_[cell]; }
  [[nodiscard]] const SlabState& state() const { return states_[2]; }

  /// Where cell `cell - 1` meets cell `cell`. \pre no contact resistance there
  [[nodiscard]] double interface_K(const SlabState& state, std::size_t cell) const;
  /// Crystallinity of a cell in this state (kinetic or equilibrium).
  [[nodiscard]] double crystallinity(const SlabState& state, std::size_t cell) const;
  [[nodiscard]] double mean_crystallinity(const SlabState& state, std::size_t first, std::size_t last) const;
  [[nodiscard]] double mean_temperature(const SlabState& state, std::size_t first, std::size_t last) const;

  /// J/m2, relative to an arbitrary zero.
  [[nodiscard]] double stored_J_m2() const;
  /// Through both faces and from blood, since construction or the last set_...; J/m2.
  [[nodiscard]] double gained_J_m2() const { return gained_J_m2_; }
  /// Sum of what went either way through each of them: the scale for closure.
  [[nodiscard]] double moved_J_m2() const { return moved_J_m2_; }
  [[nodiscard]] int steps_taken() const { return steps_taken_; }

 private:
  struct Flow {  // rates of one stage
    std::vector<double> heating_W_m3;
    std::vector<double> crystallising_per_s;
    double left_loss_W_m2 = 0.0;
    double right_loss_W_m2 = 0.0;
    double from_blood_W_m2 = 0.0;
  };

  void resize(std::size_t cells);
  void find_volumes(Shape shape);
  void refresh();
  void find_temperatures(SlabState& state, const std::vector<double>& base_progress, double stage_s);
  void find_flow(SlabState& state, Flow& flow);
  bool solve_stage(SlabState& state, Flow& flow, double stage_s);
  double residual(const SlabState& state, const Flow& flow, double stage_s);
  void solve_linearised(double stage_s, std::vector<double>& right_hand_side);
  bool try_step(double step_s);
  double error_K(double step_s);
  void melt_back(SlabState& state);
  void account(double step_s);

  StepControl control_;
  Face left_;
  Face right_;
  double left_half_m2K_W_ = 0.0;
  double right_half_m2K_W_ = 0.0;
  double left_area_ = 1.0;  // of the outer face's
  std::vector<double> width_m_;
  std::vector<double> volume_m_;  // of a cell, per area of the outer face
  std::vector<double> inverse_volume_per_m_;
  std::vector<double> half_m2K_W_;
  std::vector<double> between_W_m2K_;  // [i]: cell i to cell i + 1, per area of the outer face
  std::vector<double> blood_W_m3K_;
  std::vector<double> blood_K_;
  std::vector<HeatContent> content_;
  std::vector<const Kinetics*> kinetics_;
  bool any_kinetics_ = false;
  bool any_blood_ = false;

  std::array<SlabState, 3> states_;  // start, inner stage, end of the last step; [2] is now
  std::array<Flow, 3> flows_;
  std::vector<double> base_enthalpy_;
  std::vector<double> base_progress_;
  std::vector<double> slope_;      // dT/dH of the last find_temperatures
  std::vector<double> lag_K_;      // change of T since crystallisation was evaluated
  std::vector<double> drift_K_s_;  // dT/dt at the end of the last step; where Newton starts the next one
  std::vector<double> correction_;
  std::vector<double> upper_;
  Exchange left_exchange_{};
  Exchange right_exchange_{};

  double time_s_ = 0.0;
  double next_step_s_ = 0.0;
  double gained_J_m2_ = 0.0;
  double moved_J_m2_ = 0.0;
  int steps_taken_ = 0;
  bool flow_known_ = false;
};

}  // namespace warmsheet::heat
