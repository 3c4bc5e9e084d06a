// SPDX-License-Identifier: MIT
// Heat content of a sheet that melts over a range and may be cooled far below it before it crystallises.
//
// State: temperature T and relative crystallinity X. Enthalpy per volume H(T, X) is piecewise linear in T:
//   - up to T*(X) = end - X (end - start) the crystals are stable and X stays as it is,
//   - from T* to the melting end the crystals melt: X falls to 0,
//   - above, melt.
// With X = 1 this is the usual enthalpy of a melting range; with X < 1 it is a supercooled or partly
// crystallised sheet, and crystallising at constant H raises T: the latent heat comes back without a source
// term, so energy is conserved whatever X does. The melting line has one slope for all X, so H is a function
// of state (Kirchhoff's law then holds for the whole transition, L + (c_melt - c_solid)(T - T_m)).
#pragma once

namespace warmsheet::heat {

/// Per mass; a material that does not melt has both heats equal and no latent heat.
struct Phases {
  double density_kg_m3;
  double heat_solid_J_kgK;
  double heat_melt_J_kgK;
  double latent_J_kg;
  double melting_start_K;
  double melting_end_K;

  static Phases unchanging(double density_kg_m3, double heat_J_kgK);
};

/// T(H) for one X.
class HeatContent {
 public:
  HeatContent() = default;
  explicit HeatContent(const Phases& phases);

  /// \pre 0 <= share <= 1
  void set_crystallinity(double share);

  struct Temperature {
    double K;
    double slope;  ///< dT/dH; 0 while it melts at one temperature
    int segment;   ///< 0 crystals stable, 1 melting, 2 melt
  };
  [[nodiscard]] Temperature temperature(double enthalpy) const;
  /// \pre inside the melting range only if it has a width
  [[nodiscard]] double enthalpy(double temperature_K) const;
  /// What is left of the crystallinity at this enthalpy.
  [[nodiscard]] double crystallinity(double enthalpy) const;
  /// dT/dX at constant enthalpy: how far crystallising warms.
  [[nodiscard]] double warming_by_crystals(double temperature_K) const;
  /// 1/(rho c) of the solid; turns an enthalpy error into kelvins.
  [[nodiscard]] double scale() const { return slope_solid_; }

 private:
  // Of the material, SI per volume.
  double heat_solid_ = 1.0;
  double heat_melt_ = 1.0;
  double width_K_ = 0.0;
  double melting_heat_ = 0.0;  // H from start to end of the range with X = 1
  double end_K_ = 0.0;
  double end_enthalpy_ = 0.0;
  double slope_solid_ = 1.0;
  double slope_melting_ = 0.0;
  double slope_melt_ = 1.0;
  // Of this X.
  double share_ = 1.0;
  double knee_K_ = 0.0;
  double knee_enthalpy_ = 0.0;
  double slope_below_ = 1.0;
};

inline HeatContent::Temperature HeatContent::temperature(double enthalpy) const {
  if (enthalpy <= knee_enthalpy_)
    return {knee_K_ + (enthalpy - knee_enthalpy_) * slope_below_, slope_below_, 0};
  if (enthalpy < end_enthalpy_)
    return {knee_K_ + (enthalpy - knee_enthalpy_) * slope_melting_, slope_melting_, 1};
  return {end_K_ + (enthalpy - end_enthalpy_) * slope_melt_, slope_melt_, 2};
}

inline void HeatContent::set_crystallinity(double share) {
  share_ = share;
  knee_K_ = end_K_ - share * width_K_;
  knee_enthalpy_ = end_enthalpy_ - share * melting_heat_;
  slope_below_ = 1.0 / (share * heat_solid_ + (1.0 - share) * heat_melt_);
}

inline double HeatContent::crystallinity(double enthalpy) const {
  if (enthalpy <= knee_enthalpy_) return share_;
  if (enthalpy >= end_enthalpy_) return 0.0;
  return share_ * (end_enthalpy_ - enthalpy) / (end_enthalpy_ - knee_enthalpy_);
}

inline double HeatContent::warming_by_crystals(double temperature_K) const {
  const double released =
      melting_heat_ + (heat_solid_ - heat_melt_) * (knee_K_ - temperature_K) - width_K_ / slope_below_;
  return released * slope_below_;
}

}  // namespace warmsheet::heat
