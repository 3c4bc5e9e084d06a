// SPDX-License-Identifier: MIT
#include "choice/sampler.h"

#include <algorithm>

#include "heat/ranges.h"

namespace warmsheet::choice {
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
    variable.drawn = heat::value_at(variable.figure.range_si(), variable.chance);
  }
}

}  // namespace warmsheet::choice
