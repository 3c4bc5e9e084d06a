// SPDX-License-Identifier: MIT
#include "choice/sampler.h"

#include <algorithm>

namespace warmsheet::choice {
namespace {

double at_chance(const Figure& figure, double chance) {
  const double low = figure.low_si();
  const double middle = figure.si();
  const double high = figure.high_si();
  return chance < 0.5 ? low + 2.0 * chance * (middle - low) : middle + (2.0 * chance - 1.0) * (high - middle);
}

}  // namespace

std::size_t Sampler::add(const Figure& figure) {
  const auto same = std::find_if(variables_.begin(), variables_.end(),
                                 [&](const Variable& v) { return v.figure.same_node(figure); });
  if (same != variables_.end()) return static_cast<std::size_t>(same - variables_.begin());
  variables_.push_back({figure, variables_.size(), 0.5, figure.si()});
  return variables_.size() - 1;
}

void Sampler::draw(nesting::Random& random) {
  for (std::size_t i = 0; i < variables_.size(); ++i) {
    Variable& variable = variables_[i];
    variable.chance = variable.leader == i ? random.unit() : variables_[variable.leader].chance;
    variable.drawn = at_chance(variable.figure, variable.chance);
  }
}

}  // namespace warmsheet::choice
