// SPDX-License-Identifier: MIT
// What happens at the two faces of a slab: the heat that leaves as a function of the surface temperature.
#pragma once

#include <functional>
#include <vector>

namespace warmsheet::heat {

/// A tabulated loss in W/m2 (positive outward) against surface temperature, linear between entries and
/// continued with its end slopes. Convection, radiation and evaporation cost dozens of operations each; a
/// step asks ten times.
class LossTable {
 public:
  LossTable() = default;
  /// \pre low_K < high_K, at least one step
  LossTable(const std::function<double(double surface_K)>& loss_W_m2, double low_K, double high_K,
            double step_K);

  struct Loss {
    double W_m2;
    double slope;  ///< W/m2K
  };
  [[nodiscard]] Loss at(double surface_K) const;

 private:
  double low_K_ = 0.0;
  double step_K_ = 1.0;
  std::vector<double> losses_;
};

/// One face of a slab.
struct Face {
  enum class Kind { insulated, held, film, flux, table };
  Kind kind = Kind::insulated;
  double temperature_K = 0.0;  ///< held: of the surface; film: of the surroundings
  double film_W_m2K = 0.0;     ///< film
  double loss_W_m2 = 0.0;      ///< flux, positive outward
  const LossTable* table = nullptr;
  double resistance_m2K_W = 0.0;  ///< between the slab's surface and where the above applies (a wrap)

  static Face insulated() { return {}; }
  static Face held(double temperature_K);
  static Face film(double film_W_m2K, double temperature_K);
  static Face flux(double loss_W_m2);
  /// `table` must outlive the face.
  static Face losing(const LossTable& table, double resistance_m2K_W = 0.0);
};

/// Heat leaving through a face from a cell whose centre is at `centre_K`, `half_m2K_W` away from the surface.
struct Exchange {
  double W_m2;
  double slope;      ///< d(W/m2)/d(centre_K)
  double surface_K;  ///< of the slab itself
  double outer_K;    ///< beyond the face's resistance; the starting guess of the next call
};
Exchange exchange(const Face& face, double half_m2K_W, double centre_K, double outer_guess_K);

}  // namespace warmsheet::heat
