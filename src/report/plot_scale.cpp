// SPDX-License-Identifier: MIT
#include "report/plot_scale.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace warmsheet::report {
namespace {

constexpr double flag_gap_mm = 1.0;
/// Multiplying a step must not lose the last tick to rounding.
constexpr double tick_noise = 1e-6;

bool overlap(const Flag& a, const Flag& b) {
  return a.text_mm < b.text_mm + b.width_mm + flag_gap_mm && b.text_mm < a.text_mm + a.width_mm + flag_gap_mm;
}

/// Does the text of `label`, on its row, lie across the line that rises to the row of `other`?
bool covers_line(const Flag& label, const Flag& other) {
  const bool beside =
      other.line_mm <= label.text_mm - flag_gap_mm / 2.0 || other.line_mm >= label.text_mm + label.width_mm;
  return !beside && other.row >= label.row;
}

bool clash(const Flag& a, const Flag& b) {
  return (a.row == b.row && overlap(a, b)) || covers_line(a, b) || covers_line(b, a);
}

}  // namespace

double round_step(double span, int wanted) {
  const double rough = span / wanted;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double round : {1.0, 2.0, 5.0})
    if (rough <= round * power * (1.0 + tick_noise)) return round * power;
  return 10.0 * power;
}

std::vector<double> ticks_around(double low, double high, double step) {
  std::vector<double> ticks;
  const double first = std::floor(low / step + tick_noise);
  const double last = std::ceil(high / step - tick_noise);
  for (double i = first; i <= last; i += 1.0) ticks.push_back(i * step);
  return ticks;
}

void place_flags(std::vector<Flag>& flags, double right_mm) {
  std::vector<std::size_t> order(flags.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return flags[a].line_mm > flags[b].line_mm; });
  for (std::size_t i = 0; i < order.size(); ++i) {
    Flag& flag = flags[order[i]];
    flag.text_mm = std::min(flag.line_mm + flag_gap_mm, right_mm - flag.width_mm);
    const auto clashes = [&] {
      return std::any_of(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(i),
                         [&](std::size_t other) { return clash(flag, flags[other]); });
    };
    for (flag.row = 0; flag.row < order.size() && clashes();) ++flag.row;
  }
}

}  // namespace warmsheet::report
