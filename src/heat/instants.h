// SPDX-License-Identifier: MIT
// When a quantity crosses a level, and how high it rises, between the points of a step: a parabola through
// the step's start, inner stage and end, as accurate as the steps themselves.
#pragma once

#include <array>
#include <optional>

namespace warmsheet::heat {

/// First time in the step at which `value` reaches `level` from below; nothing if it stays below.
/// \pre time_s ascends
std::optional<double> time_of_rise(const std::array<double, 3>& time_s, const std::array<double, 3>& value,
                                   double level);

struct Summit {
  double time_s;
  double value;
};
/// The highest point of that parabola in the step.
Summit summit(const std::array<double, 3>& time_s, const std::array<double, 3>& value);

/// Waits for one rise over several steps.
class RiseWatch {
 public:
  explicit RiseWatch(double level) : level_(level) {}
  void see(const std::array<double, 3>& time_s, const std::array<double, 3>& value);
  [[nodiscard]] const std::optional<double>& time_s() const { return found_s_; }

 private:
  double level_;
  std::optional<double> found_s_;
};

}  // namespace warmsheet::heat
