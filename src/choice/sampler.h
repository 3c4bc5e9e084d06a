// SPDX-License-Identifier: MIT
// Draws of figures. Each stated figure is one variable, however many items rest on it: two items of one sheet
// share its stiffness in every draw, so their difference is not blurred by what they have in common.
#pragma once

#include <cstddef>
#include <vector>

#include "base/figure.h"
#include "nesting/random.h"

namespace warmsheet::choice {

class Sampler {
 public:
  /// Index of the figure's variable; the same node gets the same index.
  std::size_t add(const Figure& figure);
  /// From now on `variable` is high when `leader`, an earlier one, is high.
  void follow(std::size_t variable, std::size_t leader) { variables_[variable].leader = leader; }

  /// New numbers for all variables. Half of the draws lie below the stated value and half above, evenly
  /// spread up to the bounds: no more is known of a figure than its value and range.
  void draw(nesting::Random& random);

  [[nodiscard]] double central(std::size_t variable) const { return variables_[variable].figure.si(); }
  [[nodiscard]] double drawn(std::size_t variable) const { return variables_[variable].drawn; }

 private:
  struct Variable {
    Figure figure;
    std::size_t leader;
    double chance;
    double drawn;
  };
  std::vector<Variable> variables_;
};

}  // namespace warmsheet::choice
