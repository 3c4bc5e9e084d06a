// SPDX-License-Identifier: MIT
#include "heat/slab.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <stdexcept>

namespace warmsheet::heat {
namespace {

// TR-BDF2 (Bank et al. 1985) and its third-order companion (Hosea & Shampine 1996).
constexpr double gamma_stage = 2.0 - std::numbers::sqrt2;
constexpr double implicit_weight = 0.5 * gamma_stage;  // of the newest stage, the same in both stages
constexpr double explicit_weight = 0.25 * std::numbers::sqrt2;  // of start and inner stage in the full step
constexpr std::array weights{explicit_weight, explicit_weight, implicit_weight};
constexpr std::array error_weights{(1.0 - explicit_weight) / 3.0 - explicit_weight,
                                   (3.0 * explicit_weight + 1.0) / 3.0 - explicit_weight,
                                   implicit_weight / 3.0 - implicit_weight};
// The inner stage's change carried on to the end of the step: where Newton starts there.
constexpr double onward = 1.0 / gamma_stage - 1.0;
constexpr double order_exponent = 1.0 / 3.0;

// Newton stops two hundred times below the step's own tolerance, and never above a thousandth of a kelvin; a
// lag of the crystallisation rate by this share of the tolerance moves temperature by less than a tenth of
// that again.
constexpr double newton_share = 5e-3;
constexpr double lag_share = 0.05;
constexpr double most_left_K = 1e-3;
constexpr int most_iterations = 20;
constexpr int most_refusals = 60;

// Step-size control: margin below the estimate, and how fast steps may change (Hairer & Wanner, vol. II,
// IV.8).
constexpr double safety = 0.9;
constexpr double fastest_growth = 5.0;
constexpr double fastest_shrink = 0.2;
constexpr double after_no_convergence = 0.25;

void require(bool sound, const char* what) {
  if (!sound) throw std::logic_error(what);
}

void copy_state(const SlabState& from, SlabState& to) {
  to = from;  // equal sizes: the vectors keep their memory
}

}  // namespace

std::vector<double> growing_widths(double thickness_m, std::size_t cells, double growth) {
  std::vector<double> widths(cells);
  double sum = 0.0;
  double width = 1.0;
  for (double& w : widths) {
    w = width;
    sum += width;
    width *= growth;
  }
  for (double& w : widths) w *= thickness_m / sum;
  return widths;
}

std::vector<double> widths_fine_at_both_faces(double thickness_m, std::size_t cells, double growth) {
  std::vector<double> widths = growing_widths(0.5 * thickness_m, cells / 2, growth);
  const std::vector<double> right = reversed(widths);
  widths.insert(widths.end(), right.begin(), right.end());
  return widths;
}

std::vector<double> reversed(std::vector<double> widths) {
  std::reverse(widths.begin(), widths.end());
  return widths;
}

Slab::Slab(const std::vector<SlabLayer>& layers, Face left, Face right, StepControl control, Shape shape)
    : control_(control), left_(left), right_(right) {
  double resistance = 0.0;
  for (const SlabLayer& layer : layers) {
    require(layer.conductivity_W_mK > 0.0 && layer.phases.density_kg_m3 > 0.0,
            "slab: conductivity and density must be positive");
    resistance = layer.resistance_before_m2K_W;
    for (const double width : layer.widths_m) {
      require(width > 0.0, "slab: cell widths must be positive");
      const double half = 0.5 * width / layer.conductivity_W_mK;
      if (!width_m_.empty()) between_W_m2K_.push_back(1.0 / (half_m2K_W_.back() + resistance + half));
      width_m_.push_back(width);
      half_m2K_W_.push_back(half);
      blood_W_m3K_.push_back(layer.perfusion_W_m3K);
      blood_K_.push_back(layer.perfusion_K);
      content_.emplace_back(layer.phases);
      kinetics_.push_back(layer.kinetics);
      resistance = 0.0;
    }
    any_kinetics_ = any_kinetics_ || layer.kinetics != nullptr;
    any_blood_ = any_blood_ || layer.perfusion_W_m3K > 0.0;
  }
  require(!width_m_.empty(), "slab: no cells");
  resize(width_m_.size());
  find_volumes(shape);
  restart(0.0, control_.first_step_s);
}

void Slab::resize(std::size_t cells) {
  left_half_m2K_W_ = half_m2K_W_.front();
  right_half_m2K_W_ = half_m2K_W_.back();
  for (SlabState& state : states_) {
    state.enthalpy_J_m3.assign(cells, 0.0);
    state.temperature_K.assign(cells, 0.0);
    state.progress.assign(cells, 0.0);
  }
  for (Flow& flow : flows_) {
    flow.heating_W_m3.assign(cells, 0.0);
    flow.crystallising_per_s.assign(cells, 0.0);
  }
  for (std::vector<double>* scratch :
       {&base_enthalpy_, &base_progress_, &slope_, &lag_K_, &drift_K_s_, &correction_, &upper_})
    scratch->assign(cells, 0.0);
}

/// An area grows with the radius to the power 0, 1 or 2, a volume is its integral.
void Slab::find_volumes(Shape shape) {
  const int power = shape == Shape::plate ? 0 : shape == Shape::cylinder ? 1 : 2;
  const double outer_m = std::accumulate(width_m_.begin(), width_m_.end(), 0.0);
  const auto area = [&](double radius_m) { return std::pow(radius_m / outer_m, power); };
  const auto volume = [&](double radius_m) { return radius_m * area(radius_m) / (power + 1); };
  left_area_ = area(0.0);
  double radius_m = 0.0;
  for (std::size_t i = 0; i < width_m_.size(); ++i) {
    const double inner_m = radius_m;
    radius_m += width_m_[i];
    volume_m_.push_back(power == 0 ? width_m_[i] : volume(radius_m) - volume(inner_m));
    inverse_volume_per_m_.push_back(1.0 / volume_m_.back());
    if (i < between_W_m2K_.size()) between_W_m2K_[i] *= area(radius_m);
  }
}

void Slab::set_temperature(const std::function<double(double)>& temperature_K) {
  double left_edge = 0.0;
  for (std::size_t i = 0; i < cells(); ++i) {
    states_[2].temperature_K[i] = temperature_K(left_edge + 0.5 * width_m_[i]);
    left_edge += width_m_[i];
  }
  refresh();
}

void Slab::set_crystallinity(double share) {
  for (std::size_t i = 0; i < cells(); ++i) {
    if (kinetics_[i] != nullptr)
      states_[2].progress[i] = kinetics_[i]->progress(share);
    else
      content_[i].set_crystallinity(share);
  }
  refresh();
}

void Slab::set_cells(std::size_t first_cell, const std::vector<double>& temperature_K,
                     const std::vector<double>& progress) {
  require(first_cell + temperature_K.size() <= cells() && progress.size() == temperature_K.size(),
          "slab: cells do not fit");
  const auto at = static_cast<std::ptrdiff_t>(first_cell);
  std::copy(temperature_K.begin(), temperature_K.end(), states_[2].temperature_K.begin() + at);
  std::copy(progress.begin(), progress.end(), states_[2].progress.begin() + at);
  refresh();
}

void Slab::set_faces(Face left, Face right, double first_step_s) {
  left_ = left;
  right_ = right;
  restart(time_s_, first_step_s);
}

void Slab::restart(double time_s, double first_step_s) {
  time_s_ = time_s;
  next_step_s_ = first_step_s;
  std::fill(drift_K_s_.begin(), drift_K_s_.end(), 0.0);
  flow_known_ = false;
}

/// Enthalpy from temperature and crystallinity, after somebody set those.
void Slab::refresh() {
  SlabState& now = states_[2];
  for (std::size_t i = 0; i < cells(); ++i) {
    if (kinetics_[i] != nullptr) content_[i].set_crystallinity(kinetics_[i]->share(now.progress[i]).value);
    now.enthalpy_J_m3[i] = content_[i].enthalpy(now.temperature_K[i]);
  }
  now.left_surface_K = now.left_outer_K = now.temperature_K.front();
  now.right_surface_K = now.right_outer_K = now.temperature_K.back();
  gained_J_m2_ = moved_J_m2_ = 0.0;
  flow_known_ = false;
}

/// T from H. Where a sheet crystallises, X follows the newest T, and dT/dH knows that a warmer cell
/// crystallises slower.
void Slab::find_temperatures(SlabState& state, const std::vector<double>& base_progress, double stage_s) {
  for (std::size_t i = 0; i < state.temperature_K.size(); ++i) {
    double feedback = 0.0;
    const double last_K = state.temperature_K[i];
    if (kinetics_[i] != nullptr) {
      const Kinetics::Rate rate = kinetics_[i]->rate(last_K);
      state.progress[i] = base_progress[i] + stage_s * rate.per_s;
      const Kinetics::Share share = kinetics_[i]->share(state.progress[i]);
      content_[i].set_crystallinity(share.value);
      feedback = -content_[i].warming_by_crystals(last_K) * share.slope * stage_s * rate.per_s_K;
    }
    const HeatContent::Temperature found = content_[i].temperature(state.enthalpy_J_m3[i]);
    slope_[i] = found.slope;
    state.temperature_K[i] = found.K;
    if (kinetics_[i] == nullptr) continue;
    lag_K_[i] = found.K - last_K;
    if (found.segment != 0 || feedback <= 0.0) continue;
    slope_[i] /= 1.0 + feedback;
    state.temperature_K[i] = last_K + lag_K_[i] / (1.0 + feedback);
  }
}

void Slab::find_flow(SlabState& state, Flow& flow) {
  const std::vector<double>& T = state.temperature_K;
  const std::size_t last = T.size() - 1;
  left_exchange_ = exchange(left_, left_half_m2K_W_, T.front(), state.left_outer_K);
  right_exchange_ = exchange(right_, right_half_m2K_W_, T.back(), state.right_outer_K);
  state.left_surface_K = left_exchange_.surface_K;
  state.left_outer_K = left_exchange_.outer_K;
  state.right_surface_K = right_exchange_.surface_K;
  state.right_outer_K = right_exchange_.outer_K;
  flow.left_loss_W_m2 = left_area_ * left_exchange_.W_m2;
  flow.right_loss_W_m2 = right_exchange_.W_m2;
  double entering = -flow.left_loss_W_m2;
  flow.from_blood_W_m2 = 0.0;
  for (std::size_t i = 0; i <= last; ++i) {
    const double leaving = i < last ? between_W_m2K_[i] * (T[i] - T[i + 1]) : right_exchange_.W_m2;
    const double blood = blood_W_m3K_[i] * (blood_K_[i] - T[i]);
    flow.heating_W_m3[i] = (entering - leaving) * inverse_volume_per_m_[i] + blood;
    flow.from_blood_W_m2 += blood * volume_m_[i];
    entering = leaving;
  }
  if (!any_kinetics_) return;
  for (std::size_t i = 0; i <= last; ++i)
    flow.crystallising_per_s[i] = kinetics_[i] != nullptr ? kinetics_[i]->rate(T[i]).per_s : 0.0;
}

/// Fills correction_ with H - base - stage * heating and returns its largest entry in kelvins.
double Slab::residual(const SlabState& state, const Flow& flow, double stage_s) {
  double worst = 0.0;
  for (std::size_t i = 0; i < correction_.size(); ++i) {
    correction_[i] = state.enthalpy_J_m3[i] - base_enthalpy_[i] - stage_s * flow.heating_W_m3[i];
    worst = std::max(worst, std::abs(correction_[i]) * content_[i].scale());
  }
  return worst;
}

/// Solves (1 - stage * d heating / dH) x = rhs by elimination; the matrix is dominated by its columns'
/// diagonals.
void Slab::solve_linearised(double stage_s, std::vector<double>& x) {
  const std::size_t last = x.size() - 1;
  double coupling_left = left_area_ * left_exchange_.slope;
  double from_left = 0.0;  // of the row above: -lower entry per unit of its unknown
  double upper_above = 0.0;
  double x_above = 0.0;
  for (std::size_t i = 0; i <= last; ++i) {
    const double coupling_right = i < last ? between_W_m2K_[i] : right_exchange_.slope;
    const double per_volume = stage_s * inverse_volume_per_m_[i];
    const double diagonal =
        1.0 + (per_volume * (coupling_left + coupling_right) + stage_s * blood_W_m3K_[i]) * slope_[i];
    from_left *= per_volume;
    const double inverse_pivot = 1.0 / (diagonal + from_left * upper_above);
    upper_above = i < last ? -per_volume * coupling_right * slope_[i + 1] * inverse_pivot : 0.0;
    x_above = (x[i] + from_left * x_above) * inverse_pivot;
    upper_[i] = upper_above;
    x[i] = x_above;
    from_left = coupling_right * slope_[i];
    coupling_left = coupling_right;
  }
  for (std::size_t i = last; i-- > 0;) x[i] -= upper_[i] * x[i + 1];
}

/// H = base + stage * heating(H), from the guess in `state`.
bool Slab::solve_stage(SlabState& state, Flow& flow, double stage_s) {
  const double enough_K = std::min(newton_share * control_.tolerance_K, most_left_K);
  const double lag_allowed_K = std::min(lag_share * control_.tolerance_K, most_left_K);
  for (int iteration = 0; iteration < most_iterations; ++iteration) {
    find_temperatures(state, base_progress_, stage_s);
    find_flow(state, flow);
    const double worst = residual(state, flow, stage_s);
    if (!std::isfinite(worst)) return false;
    const bool follows = !any_kinetics_ || std::all_of(lag_K_.begin(), lag_K_.end(), [&](double lag) {
      return std::abs(lag) < lag_allowed_K;
    });
    if (worst < enough_K && follows) {
      for (std::size_t i = 0; i < correction_.size(); ++i) state.enthalpy_J_m3[i] -= correction_[i];
      return true;
    }
    solve_linearised(stage_s, correction_);
    for (std::size_t i = 0; i < correction_.size(); ++i) {
      state.enthalpy_J_m3[i] -= correction_[i];
      state.temperature_K[i] -= slope_[i] * correction_[i];  // where crystallisation is evaluated next
    }
  }
  return false;
}

bool Slab::try_step(double h) {
  const std::size_t n = cells();
  const double stage_s = implicit_weight * h;
  const SlabState& start = states_[0];
  const Flow& at_start = flows_[0];
  copy_state(start, states_[1]);
  for (std::size_t i = 0; i < n; ++i) {
    base_enthalpy_[i] = start.enthalpy_J_m3[i] + stage_s * at_start.heating_W_m3[i];
    base_progress_[i] = start.progress[i] + stage_s * at_start.crystallising_per_s[i];
    states_[1].enthalpy_J_m3[i] += 2.0 * stage_s * at_start.heating_W_m3[i];
    states_[1].temperature_K[i] += gamma_stage * h * drift_K_s_[i];
  }
  if (!solve_stage(states_[1], flows_[1], stage_s)) return false;

  const Flow& inner = flows_[1];
  copy_state(states_[1], states_[2]);
  for (std::size_t i = 0; i < n; ++i) {
    base_enthalpy_[i] =
        start.enthalpy_J_m3[i] + explicit_weight * h * (at_start.heating_W_m3[i] + inner.heating_W_m3[i]);
    base_progress_[i] =
        start.progress[i] +
        explicit_weight * h * (at_start.crystallising_per_s[i] + inner.crystallising_per_s[i]);
    states_[2].enthalpy_J_m3[i] += onward * (states_[1].enthalpy_J_m3[i] - start.enthalpy_J_m3[i]);
    states_[2].temperature_K[i] += onward * (states_[1].temperature_K[i] - start.temperature_K[i]);
  }
  return solve_stage(states_[2], flows_[2], stage_s);
}

/// Largest error of the step just tried, as temperature; filtered by the step's own matrix, so that stiff
/// modes which the step damps do not count (Hosea & Shampine 1996, eq. 20).
double Slab::error_K(double h) {
  for (std::size_t i = 0; i < cells(); ++i) {
    correction_[i] =
        h * (error_weights[0] * flows_[0].heating_W_m3[i] + error_weights[1] * flows_[1].heating_W_m3[i] +
             error_weights[2] * flows_[2].heating_W_m3[i]);
  }
  solve_linearised(implicit_weight * h, correction_);
  double worst = 0.0;
  for (std::size_t i = 0; i < cells(); ++i) {
    double error = std::abs(correction_[i]) * content_[i].scale();
    if (kinetics_[i] != nullptr) {
      const double progress = h * (error_weights[0] * flows_[0].crystallising_per_s[i] +
                                   error_weights[1] * flows_[1].crystallising_per_s[i] +
                                   error_weights[2] * flows_[2].crystallising_per_s[i]);
      const double share = progress * kinetics_[i]->share(states_[2].progress[i]).slope;
      error += std::abs(share * content_[i].warming_by_crystals(states_[2].temperature_K[i]));
    }
    worst = std::max(worst, error);
  }
  return worst;
}

/// Crystals that melted in this step are gone for the next one.
void Slab::melt_back(SlabState& state) {
  for (std::size_t i = 0; i < cells(); ++i) {
    if (kinetics_[i] == nullptr || state.progress[i] <= kinetics_[i]->seed_progress()) continue;
    if (content_[i].temperature(state.enthalpy_J_m3[i]).segment == 0) continue;
    state.progress[i] = kinetics_[i]->progress(content_[i].crystallinity(state.enthalpy_J_m3[i]));
  }
}

void Slab::account(double h) {
  for (std::size_t stage = 0; stage < flows_.size(); ++stage) {
    const double weight_s = h * weights[stage];
    const Flow& flow = flows_[stage];
    gained_J_m2_ += weight_s * (flow.from_blood_W_m2 - flow.left_loss_W_m2 - flow.right_loss_W_m2);
    moved_J_m2_ += weight_s * (std::abs(flow.from_blood_W_m2) + std::abs(flow.left_loss_W_m2) +
                               std::abs(flow.right_loss_W_m2));
  }
}

SlabStep Slab::step(double until_s) {
  if (any_kinetics_) melt_back(states_[2]);
  if (!flow_known_) {
    find_flow(states_[2], flows_[2]);
    flow_known_ = true;
  }
  copy_state(states_[2], states_[0]);
  std::swap(flows_[0], flows_[2]);
  for (int refusals = 0; refusals < most_refusals; ++refusals) {
    const double remaining_s = until_s - time_s_;
    const double wanted_s = std::min(next_step_s_, control_.longest_step_s);
    const bool last = wanted_s >= remaining_s;
    const double h = last ? remaining_s : wanted_s;
    const bool converged = try_step(h);
    const double error = converged ? error_K(h) : 0.0;
    const double ratio =
        converged ? safety * std::pow(control_.tolerance_K / std::max(error, 1e-12), order_exponent)
                  : after_no_convergence;
    const bool accepted = converged && error <= control_.tolerance_K;
    const double proposed_s = h * std::clamp(ratio, fastest_shrink, fastest_growth);
    // A step cut short by `until_s` says nothing against the longer one that was planned.
    next_step_s_ = accepted && last ? std::max(proposed_s, next_step_s_ * std::min(ratio, 1.0)) : proposed_s;
    if (!accepted) {
      continue;
    }
    account(h);
    for (std::size_t i = 0; i < cells(); ++i)
      drift_K_s_[i] = (states_[2].temperature_K[i] - states_[1].temperature_K[i]) / ((1.0 - gamma_stage) * h);
    const double start_s = time_s_;
    time_s_ = last ? until_s : time_s_ + h;
    ++steps_taken_;
    return {{start_s, start_s + gamma_stage * h, time_s_},
            {&states_[0], &states_[1], &states_[2]},
            {weights[0] * h, weights[1] * h, weights[2] * h}};
  }
  throw std::runtime_error("the heat solver found no step that converges");
}

double Slab::interface_K(const SlabState& state, std::size_t cell) const {
  const double left = half_m2K_W_[cell - 1];
  const double right = half_m2K_W_[cell];
  return (state.temperature_K[cell - 1] * right + state.temperature_K[cell] * left) / (left + right);
}

double Slab::crystallinity(const SlabState& state, std::size_t cell) const {
  HeatContent content = content_[cell];
  if (kinetics_[cell] != nullptr)
    content.set_crystallinity(kinetics_[cell]->share(state.progress[cell]).value);
  return content.crystallinity(state.enthalpy_J_m3[cell]);
}

double Slab::mean_crystallinity(const SlabState& state, std::size_t first, std::size_t last) const {
  double sum = 0.0;
  double volume = 0.0;
  for (std::size_t i = first; i < last; ++i) {
    sum += crystallinity(state, i) * volume_m_[i];
    volume += volume_m_[i];
  }
  return sum / volume;
}

double Slab::mean_temperature(const SlabState& state, std::size_t first, std::size_t last) const {
  double sum = 0.0;
  double volume = 0.0;
  for (std::size_t i = first; i < last; ++i) {
    sum += state.temperature_K[i] * volume_m_[i];
    volume += volume_m_[i];
  }
  return sum / volume;
}

double Slab::stored_J_m2() const {
  double sum = 0.0;
  for (std::size_t i = 0; i < cells(); ++i) sum += states_[2].enthalpy_J_m3[i] * volume_m_[i];
  return sum;
}

}  // namespace warmsheet::heat
