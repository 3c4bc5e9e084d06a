// SPDX-License-Identifier: MIT
// The mechanics of one stock item in one piece: from figures to plain numbers. The same function serves the
// central values and every draw, so that both tell the same story.
#pragma once

#include <array>
#include <initializer_list>
#include <vector>

#include "choice/piece.h"
#include "choice/sampler.h"
#include "library/library.h"

namespace warmsheet::choice {

/// What is computed of every item, in SI.
struct Numbers {
  double modulus_Pa = 0.0;     ///< worn, with holes
  double stiffness_Nm2 = 0.0;  ///< E I of the bending section
  double give_m = 0.0;         ///< deflection where the push acts
  double give_rad = 0.0;       ///< seen from the bending joint
  double first_yield_N = 0.0;  ///< push that leaves it bent
  double strength = 0.0;       ///< that push over the expected one
  double mass_kg = 0.0;
  double open_area = 0.0;
  double shorter_m = 0.0;   ///< by how much the free sheet would close around the girth
  double squeeze_Pa = 0.0;  ///< 0 unless closed
};

/// Of a flat piece with holes.
inline double sheet_mass_kg(double area_m2, double thickness_m, double density_kg_m3, double open_area) {
  return area_m2 * thickness_m * density_kg_m3 * (1.0 - open_area);
}

/// What all items share: how they are worn. Made once for a choice, so that all items meet the same draw.
struct Wear {
  Figure temperature;
  Figure age;
  Figure creep;
  Figure tissue_modulus;
  Figure tissue_depth;
};
Wear usual_wear(bool lasting);

/// The inputs of the mechanics, in the order in which figures are held.
enum class Input : std::size_t {
  modulus_23,
  modulus_37,
  yield,
  poisson,
  density,
  shrinkage,
  thickness,
  stiffness_left,
  strength_left,
  open_area,
  temperature,
  age,
  creep,
  tissue_modulus,
  tissue_depth,
  area,
  girth,
  cover,
  lever,
  span,
  force,
  palm_width,
  palm_rise,
  count
};

class ItemMechanics {
 public:
  ItemMechanics(const library::Library& library, const library::Sheet& sheet, const library::StockItem& stock,
                const Piece& piece, const Wear& wear, Sampler& sampler);

  [[nodiscard]] Numbers central(const Sampler& sampler) const;
  [[nodiscard]] Numbers drawn(const Sampler& sampler) const;

  [[nodiscard]] const Figure& input(Input which) const { return figures_[static_cast<std::size_t>(which)]; }
  /// The inputs named, for the figure of a number; what is not there (a palmar piece) is left out.
  [[nodiscard]] std::vector<Figure> rests_on(std::initializer_list<Input> inputs) const;

 private:
  static constexpr auto inputs = static_cast<std::size_t>(Input::count);
  using Values = std::array<double, inputs>;
  [[nodiscard]] Numbers numbers(const Values& in) const;

  std::vector<Figure> figures_;
  std::array<std::size_t, inputs> variables_{};
  bool closed_;
  bool palm_;
};

}  // namespace warmsheet::choice
