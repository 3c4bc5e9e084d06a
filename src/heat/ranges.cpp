// SPDX-License-Identifier: MIT
#include "heat/ranges.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <mutex>
#include <numeric>
#include <random>
#include <thread>

namespace warmsheet::heat {
namespace {

constexpr double centre = 0.5;
// More threads than this never helped; a few hundred samples are soon done.
constexpr unsigned most_threads = 16;

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

struct Moments {
  double covariance;
  double variance_x;
  double variance_y;
};

Moments moments(std::span<const double> x, std::span<const double> y) {
  const double mean_x = mean(x);
  const double mean_y = mean(y);
  Moments m{};
  for (std::size_t i = 0; i < x.size(); ++i) {
    m.covariance += (x[i] - mean_x) * (y[i] - mean_y);
    m.variance_x += (x[i] - mean_x) * (x[i] - mean_x);
    m.variance_y += (y[i] - mean_y) * (y[i] - mean_y);
  }
  return m;
}

/// The straight-line model at every sample, without its constant; its true median is 0 because positions are
/// symmetric.
std::vector<double> linear_model(const std::vector<double>& values, const Hypercube& cube,
                                 std::size_t inputs) {
  std::vector<double> model(values.size(), 0.0);
  for (std::size_t j = 0; j < inputs; ++j) {
    const Moments m = moments(cube.column(j), values);
    const double slope = m.variance_x > 0.0 ? m.covariance / m.variance_x : 0.0;
    for (std::size_t i = 0; i < model.size(); ++i) model[i] += slope * (cube.at(i, j) - centre);
  }
  return model;
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

Range spread(const std::vector<double>& values, double central, const Hypercube& cube) {
  const double low = quantile(values, low_quantile);
  const double high = quantile(values, high_quantile);
  const double drawn = quantile(values, centre);
  const double error = quantile(linear_model(values, cube, cube.inputs()), centre);
  // Where the result bends, the straight line's error may say too much; it never carries past the central
  // value.
  const double median = std::clamp(drawn - error, std::min(drawn, central), std::max(drawn, central));
  return {median, std::min(low, median), std::max(high, median)};
}

std::vector<double> first_order_shares(const std::vector<double>& values, const Hypercube& cube) {
  std::vector<double> shares;
  for (std::size_t j = 0; j < cube.inputs(); ++j) {
    const Moments m = moments(cube.column(j), values);
    const double both = m.variance_x * m.variance_y;
    shares.push_back(both > 0.0 ? m.covariance * m.covariance / both : 0.0);
  }
  return shares;
}

void in_parallel(std::size_t count, const std::function<void(std::size_t)>& work, unsigned threads) {
  if (threads == 0) threads = std::clamp(std::thread::hardware_concurrency(), 1U, most_threads);
  std::atomic<std::size_t> next{0};
  std::mutex guard;
  std::size_t failed = count;
  std::exception_ptr failure;
  const auto worker = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        const std::lock_guard lock(guard);
        if (i < failed) {
          failed = i;
          failure = std::current_exception();
        }
      }
    }
  };
  std::vector<std::thread> crew;
  for (unsigned i = 1; i < std::min<std::size_t>(threads, count); ++i) crew.emplace_back(worker);
  worker();
  for (std::thread& thread : crew) thread.join();
  if (failure) std::rethrow_exception(failure);
}

}  // namespace warmsheet::heat
