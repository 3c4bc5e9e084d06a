// SPDX-License-Identifier: MIT
// Adults as they are distributed, all measures of a person at once.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/figure.h"
#include "outline/survey.h"

namespace warmsheet::outline {

/// What the survey took that a design's measure is a share of; nothing for a measure that is not shipped.
std::optional<Surveyed> surveyed_behind(std::string_view measure);

/// Measures of invented adults, half of them women, half men.
class Adults {
 public:
  /// The same people for the same seed, whatever the machine. \pre every id is known
  Adults(const std::vector<std::string>& measures, std::size_t count, std::uint64_t seed);

  [[nodiscard]] static bool know(const std::string& measure);
  /// What the crowd rests on: the survey, and shares of it from memory.
  [[nodiscard]] static std::vector<Figure> basis();

  [[nodiscard]] std::size_t size() const { return people_.size(); }
  /// mm, in the order of the ids given.
  [[nodiscard]] const std::vector<double>& person(std::size_t index) const { return people_[index]; }

 private:
  std::vector<std::vector<double>> people_;
};

}  // namespace warmsheet::outline
