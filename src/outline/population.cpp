// SPDX-License-Identifier: MIT
// Gordon et al. 2014, 2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007: means, standard
// deviations and correlations computed from the public individual records (1986 women, 4082 men). Its
// skewness is 0.14 to 0.34, so normal numbers are fair between the 5 % and 95 % bounds. Serving soldiers are
// not patients: thinner, stronger and without swelling.
// Creases, knuckles, digits and the upper arm have no survey that was read: their shares of palm length, hand
// breadth and forearm are from memory, and each gets 4 % of scatter of its own (palm length scatters by 3 %
// about hand length in that survey).
#include "outline/population.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <random>
#include <string_view>

namespace warmsheet::outline {
namespace {

enum Surveyed : std::size_t { hand, palm, breadth, girth, wrist, forearm, radius, surveyed_count };
using Row = std::array<double, surveyed_count>;

struct Sample {
  Row mean_mm;
  Row sd_mm;
  std::array<Row, surveyed_count> correlation;  // lower triangle
};

constexpr std::array<Sample, 2> samples{{
    {{181.08, 108.70, 78.15, 186.55, 154.79, 264.08, 241.33},  // women
     {10.06, 5.94, 3.84, 8.82, 7.83, 18.52, 15.24},
     {{{1.0},
       {0.839, 1.0},
       {0.570, 0.498, 1.0},
       {0.562, 0.505, 0.893, 1.0},
       {0.538, 0.498, 0.669, 0.737, 1.0},
       {0.415, 0.389, 0.509, 0.579, 0.739, 1.0},
       {0.688, 0.656, 0.433, 0.443, 0.435, 0.354, 1.0}}}},
    {{193.28, 116.46, 88.26, 212.28, 175.92, 310.06, 267.88},  // men
     {9.95, 6.23, 4.39, 10.24, 8.96, 21.99, 15.42},
     {{{1.0},
       {0.795, 1.0},
       {0.582, 0.477, 1.0},
       {0.590, 0.501, 0.922, 1.0},
       {0.545, 0.469, 0.713, 0.772, 1.0},
       {0.392, 0.376, 0.568, 0.641, 0.724, 1.0},
       {0.674, 0.610, 0.373, 0.372, 0.371, 0.253, 1.0}}}},
}};

/// A measure as a share of a surveyed one.
struct Share {
  std::string_view measure;
  Surveyed of;
  double share;
  bool scattered;  ///< not surveyed itself, so with scatter of its own
};

/// The survey took the forearm's girth at its largest with the fist clenched; a resting forearm two thirds of
/// the way up has 0.88 of it (from memory).
constexpr double resting = 0.88;
constexpr double thumb_diameter = 0.237;  // over hand breadth: UM-HSRI-77-17, children and youths

constexpr std::array shares{
    Share{"hand_length", hand, 1.0, false},
    Share{"palm_length", palm, 1.0, false},
    Share{"hand_breadth", breadth, 1.0, false},
    Share{"hand_girth", girth, 1.0, false},
    Share{"wrist_girth", wrist, 1.0, false},
    Share{"forearm_girth", forearm, resting, false},
    Share{"forearm_length", radius, 1.0, true},
    Share{"crease_radial", palm, 0.78, true},
    Share{"crease_ulnar", palm, 0.66, true},
    Share{"thenar_length", palm, 0.49, true},
    Share{"knuckle_radial", palm, 0.81, true},
    Share{"knuckle_ulnar", palm, 0.69, true},
    Share{"thumb_girth", breadth, std::numbers::pi* thumb_diameter, true},
    Share{"thumb_segment", palm, 0.32, true},
    Share{"thumb_reach", palm, 1.0, true},
    Share{"ring_reach", hand, 0.955, true},
    Share{"middle_reach", hand, 1.0, true},
    Share{"finger_girth", breadth, 0.75, true},
    Share{"finger_length", hand, 0.40, true},
    Share{"tip_girth", breadth, 0.63, true},
    Share{"end_length", hand, 0.25, true},
    Share{"upper_arm_length", radius, 1.02, true},
    Share{"upper_arm_girth", forearm, 1.2 * resting, true},
    Share{"elbow_girth", forearm, 1.06 * resting, true},
};

const Share* share_of(std::string_view measure) {
  const auto* found = std::find_if(shares.begin(), shares.end(),
                                   [&](const Share& share) { return share.measure == measure; });
  return found == shares.end() ? nullptr : found;
}

/// Normal numbers by Box and Muller: those of the standard library differ between machines.
class Normal {
 public:
  explicit Normal(std::uint64_t seed) : bits_(seed) {}
  double operator()() {
    constexpr double range = 9007199254740992.0;  // 2^53
    const double u = (static_cast<double>(bits_() >> 11U) + 1.0) / (range + 1.0);
    const double v = static_cast<double>(bits_() >> 11U) / range;
    return std::sqrt(-2.0 * std::log(u)) * std::cos(2.0 * std::numbers::pi * v);
  }

 private:
  std::mt19937_64 bits_;
};

/// Cholesky factor: L z has the correlation if the z are independent.
std::array<Row, surveyed_count> factor(const std::array<Row, surveyed_count>& correlation) {
  std::array<Row, surveyed_count> l{};
  for (std::size_t i = 0; i < surveyed_count; ++i)
    for (std::size_t j = 0; j <= i; ++j) {
      double rest = correlation[i][j];
      for (std::size_t k = 0; k < j; ++k) rest -= l[i][k] * l[j][k];
      l[i][j] = i == j ? std::sqrt(rest) : rest / l[j][j];
    }
  return l;
}

Row drawn(const Sample& sample, const std::array<Row, surveyed_count>& l, Normal& normal) {
  Row z;
  for (double& one : z) one = normal();
  Row made = sample.mean_mm;
  for (std::size_t i = 0; i < surveyed_count; ++i)
    for (std::size_t j = 0; j <= i; ++j) made[i] += sample.sd_mm[i] * l[i][j] * z[j];
  return made;
}

}  // namespace

Adults::Adults(const std::vector<std::string>& measures, std::size_t count, std::uint64_t seed) {
  constexpr double own_scatter = 0.04;
  constexpr double farthest_sd = 2.5;
  Normal normal(seed);
  const std::array factors{factor(samples[0].correlation), factor(samples[1].correlation)};
  for (std::size_t i = 0; i < count; ++i) {
    const Row body = drawn(samples[i % 2], factors[i % 2], normal);
    std::vector<double> person;
    for (const std::string& id : measures) {
      const Share& share = *share_of(id);
      const double scatter = std::clamp(normal(), -farthest_sd, farthest_sd);
      person.push_back(share.share * body[share.of] * (share.scattered ? 1.0 + own_scatter * scatter : 1.0));
    }
    people_.push_back(std::move(person));
  }
}

bool Adults::know(const std::string& measure) {
  return share_of(measure) != nullptr;
}

std::vector<Figure> Adults::basis() {
  return {Figure::stated("people of the survey", Range::exactly(6068.0), units::one(),
                         Origin{.basis = Basis::handbook,
                                .source = "army-anthropometry-2012",
                                .where = "means, SD and correlations of the public records"}),
          Figure::stated("scatter of creases and digits", Range::exactly(0.04), units::percent(),
                         Origin{.basis = Basis::memory, .where = "shares of palm, hand and forearm"})};
}

}  // namespace warmsheet::outline
