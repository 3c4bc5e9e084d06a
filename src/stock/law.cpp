// SPDX-License-Identifier: MIT
#include "stock/law.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <utility>

namespace warmsheet::stock {
namespace {

/// Nobody orders by a chance this small, and it is below the rounding of a sum near 1.
constexpr double negligible = 1e-16;
/// A cumulated probability misses its exact value by a few rounding errors; a target met exactly is met.
constexpr double rounding = 1e-12;
/// exp(-rate) must stay a normal number for Panjer's recursion to start; larger rates are halved first.
constexpr double largest_panjer_rate = 500.0;

void drop_empty_tail(std::vector<double>& p) {
  double tail = 0.0;
  while (p.size() > 1 && tail + p.back() < negligible) {
    tail += p.back();
    p.pop_back();
  }
}

/// The head likewise, which stays in its place: a year's metres of edging begin far above nothing.
std::size_t end_of_empty_head(const std::vector<double>& p) {
  double head = 0.0;
  std::size_t end = 0;
  while (end + 1 < p.size() && head + p[end] < negligible) head += p[end++];
  return end;
}

std::size_t index(int k) {
  return static_cast<std::size_t>(k);
}

}  // namespace

Law::Law(std::vector<double> probabilities) : probability_(std::move(probabilities)) {
  if (probability_.empty() ||
      std::any_of(probability_.begin(), probability_.end(), [](double p) { return !(p >= 0.0); }))
    throw std::logic_error("a law needs probabilities, none below zero");
  drop_empty_tail(probability_);
  const double total = std::accumulate(probability_.begin(), probability_.end(), 0.0);
  if (!(total > 0.0)) throw std::logic_error("a law whose probabilities are all zero");
  for (double& p : probability_) p /= total;
}

Law Law::exactly(int k) {
  std::vector<double> p(index(k) + 1, 0.0);
  p.back() = 1.0;
  return Law(std::move(p));
}

Law Law::poisson(double mean) {
  return compound_poisson(mean, exactly(1));
}

Law Law::of_history(const std::vector<int>& counts) {
  const int most = *std::max_element(counts.begin(), counts.end());
  std::vector<double> p(index(most) + 1, 0.0);
  for (const int count : counts) p[index(count)] += 1.0;
  return Law(std::move(p));
}

double Law::probability(int k) const {
  return k < 0 || k > largest() ? 0.0 : probability_[index(k)];
}

double Law::at_most(int k) const {
  double p = 0.0;
  for (int i = 0; i <= std::min(k, largest()); ++i) p += probability_[index(i)];
  return p;
}

double Law::mean() const {
  double mean = 0.0;
  for (int k = 0; k <= largest(); ++k) mean += k * probability_[index(k)];
  return mean;
}

double Law::variance() const {
  const double middle = mean();
  double variance = 0.0;
  for (int k = 0; k <= largest(); ++k) variance += (k - middle) * (k - middle) * probability_[index(k)];
  return variance;
}

int Law::quantile(double p) const {
  double below = 0.0;
  for (int k = 0; k < largest(); ++k) {
    below += probability_[index(k)];
    if (below >= p - rounding) return k;
  }
  return largest();
}

double Law::shortfall(int k) const {
  double expected = 0.0;
  for (int d = largest(); d > k && d >= 0; --d) expected += (d - k) * probability_[index(d)];
  return expected;
}

double Law::leftover(int k) const {
  double expected = 0.0;
  for (int d = 0; d < k && d <= largest(); ++d) expected += (k - d) * probability_[index(d)];
  return expected;
}

Law sum(const Law& a, const Law& b) {
  const auto& p = a.probabilities();
  const auto& q = b.probabilities();
  std::vector<double> r(p.size() + q.size() - 1, 0.0);
  const std::size_t first = end_of_empty_head(q);
  for (std::size_t i = end_of_empty_head(p); i < p.size(); ++i)
    for (std::size_t j = first; j < q.size(); ++j) r[i + j] += p[i] * q[j];
  return Law(std::move(r));
}

Law sum_of(const Law& law, int n) {
  Law result = Law::exactly(0);
  for (Law power = law; n > 0; n /= 2, power = n > 0 ? sum(power, power) : power)
    if (n % 2 == 1) result = sum(result, power);
  return result;
}

Law thinned(const Law& law, double kept_share) {
  return compound(law, Law({1.0 - kept_share, kept_share}));
}

Law scaled(const Law& law, double factor) {
  std::vector<double> p(index(static_cast<int>(std::ceil(law.largest() * factor))) + 2, 0.0);
  for (int k = 0; k <= law.largest(); ++k) {
    const double whole = std::floor(k * factor);
    const double part = k * factor - whole;
    p[index(static_cast<int>(whole))] += (1.0 - part) * law.probability(k);
    p[index(static_cast<int>(whole)) + 1] += part * law.probability(k);
  }
  return Law(std::move(p));
}

Law mixed(const Law& first, const Law& second, double second_share) {
  std::vector<double> p(index(std::max(first.largest(), second.largest())) + 1);
  for (std::size_t k = 0; k < p.size(); ++k)
    p[k] = (1.0 - second_share) * first.probability(static_cast<int>(k)) +
           second_share * second.probability(static_cast<int>(k));
  return Law(std::move(p));
}

Law over_months(const Law& month, double months) {
  const double whole = std::floor(months);
  const Law full = sum_of(month, static_cast<int>(whole));
  return months > whole ? sum(full, thinned(month, months - whole)) : full;
}

Law compound(const Law& count, const Law& size) {
  Law result = Law::exactly(0);
  double above = 0.0;  // P(N > n) so far, from the top down
  for (int n = count.largest(); n >= 0; --n) {
    // With chance `above` one more size is added to what follows; else the sum ends here.
    const double at_least = above + count.probability(n);
    result = mixed(Law::exactly(0), sum(size, result), above / at_least);
    above = at_least;
  }
  return result;
}

Law compound_poisson(double rate, const Law& size) {
  if (rate > largest_panjer_rate) {
    const Law half = compound_poisson(0.5 * rate, size);
    return sum(half, half);
  }
  const auto& q = size.probabilities();
  const double mean = rate * size.mean();
  std::vector<double> f{std::exp(-rate * (1.0 - q[0]))};
  // The recursion has no end; past the mean it stops when one whole size in a row adds nothing.
  int empty = 0;
  for (int s = 1; s <= mean || empty < size.largest(); ++s) {
    double next = 0.0;
    for (int j = 1; j <= std::min(s, size.largest()); ++j) next += j * q[index(j)] * f[index(s - j)];
    f.push_back(rate * next / s);
    empty = f.back() < negligible ? empty + 1 : 0;
  }
  return Law(std::move(f));
}

}  // namespace warmsheet::stock
