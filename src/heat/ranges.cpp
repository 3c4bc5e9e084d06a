// SPDX-License-Identifier: MIT
#include "heat/ranges.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

namespace warmsheet::heat {
namespace {

constexpr double centre = 0.5;
constexpr int sweeps = 8;
// Guards a division by the variance of something that does not vary.
constexpr double least_variance = 1e-300;

/// FNV-1a: the stream of an input depends on its name, not on how many inputs stand before it.
std::uint64_t hash(const std::string& text, std::uint64_t seed) {
  constexpr std::uint64_t offset = 14695981039346656037ULL;
  constexpr std::uint64_t prime = 1099511628211ULL;
  std::uint64_t h = offset ^ seed;
  for (const char c : text) h = (h ^ static_cast<unsigned char>(c)) * prime;
  return h;
}

/// The standard fixes the engine's numbers but not what its distributions make of them.
double uniform(std::mt19937_64& engine) {
  constexpr int kept_bits = 53;
  return static_cast<double>(engine() >> (64 - kept_bits)) * std::ldexp(1.0, -kept_bits);
}

std::vector<double> stratified(std::size_t samples, std::mt19937_64& engine) {
  std::vector<std::size_t> strata(samples);
  std::iota(strata.begin(), strata.end(), std::size_t{0});
  for (std::size_t i = samples; i-- > 1;)
    std::swap(strata[i], strata[static_cast<std::size_t>(engine() % (i + 1))]);
  std::vector<double> positions(samples);
  for (std::size_t i = 0; i < samples; ++i)
    positions[i] = (static_cast<double>(strata[i]) + uniform(engine)) / static_cast<double>(samples);
  return positions;
}

double mean(std::span<const double> values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

double product(std::span<const double> x, std::span<const double> y) {
  return std::inner_product(x.begin(), x.end(), y.begin(), 0.0);
}

std::vector<double> centred(std::span<const double> values) {
  std::vector<double> shifted(values.begin(), values.end());
  const double middle = mean(values);
  for (double& v : shifted) v -= middle;
  return shifted;
}

/// Slopes of a straight-line model in all inputs together, by sweeps over them (Gauss and Seidel on the
/// normal equations; the columns of a hypercube are nearly independent, so that a few sweeps settle).
std::vector<double> slopes(const std::vector<double>& values, const Hypercube& cube) {
  std::vector<std::vector<double>> columns;
  for (std::size_t j = 0; j < cube.inputs(); ++j) columns.push_back(centred(cube.column(j)));
  std::vector<double> found(cube.inputs(), 0.0);
  std::vector<double> rest = centred(values);
  for (int sweep = 0; sweep < sweeps; ++sweep)
    for (std::size_t j = 0; j < found.size(); ++j) {
      const double change =
          product(columns[j], rest) / std::max(product(columns[j], columns[j]), least_variance);
      found[j] += change;
      for (std::size_t i = 0; i < rest.size(); ++i) rest[i] -= change * columns[j][i];
    }
  return found;
}

}  // namespace

Hypercube::Hypercube(std::size_t samples, const std::vector<std::string>& inputs, std::uint64_t seed)
    : samples_(samples) {
  for (const std::string& input : inputs) {
    std::mt19937_64 engine(hash(input, seed));
    columns_.push_back(stratified(samples, engine));
  }
}

double value_at(const Range& range, double position) {
  if (position < centre) return range.low + (range.value - range.low) * (position / centre);
  return range.value + (range.high - range.value) * ((position - centre) / centre);
}

double quantile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  const double place = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  if (below + 1 >= values.size()) return values.back();
  return values[below] + (place - static_cast<double>(below)) * (values[below + 1] - values[below]);
}

double surely_enough_for(std::vector<double> values, double share) {
  constexpr double confidence = 0.95;
  std::sort(values.begin(), values.end());
  const auto n = static_cast<double>(values.size());
  // Chance that just `above` of the draws lie over the quantile, and that at most so many do. Where the
  // second is small, the quantile surely lies below the next largest draw. In logarithms: of 15 000 draws the
  // chance that none lies over it is below the smallest double.
  double log_exactly = n * std::log(share);
  double at_most = std::exp(log_exactly);
  std::size_t above = 0;
  while (at_most <= 1.0 - confidence && above + 1 < values.size()) {
    const auto k = static_cast<double>(++above);
    log_exactly += std::log((n - k + 1.0) / k * (1.0 - share) / share);
    at_most += std::exp(log_exactly);
  }
  return values[values.size() - std::max<std::size_t>(above, 1)];
}

Range spread(const std::vector<double>& values, double central) {
  return {central, std::min(quantile(values, low_quantile), central),
          std::max(quantile(values, high_quantile), central)};
}

std::vector<double> first_order_shares(const std::vector<double>& values, const Hypercube& cube) {
  const std::vector<double> slope = slopes(values, cube);
  const std::vector<double> rest = centred(values);
  const double variance = std::max(product(rest, rest), least_variance);
  std::vector<double> shares;
  for (std::size_t j = 0; j < slope.size(); ++j) {
    const std::vector<double> column = centred(cube.column(j));
    shares.push_back(std::min(1.0, slope[j] * slope[j] * product(column, column) / variance));
  }
  return shares;
}

}  // namespace warmsheet::heat
