// SPDX-License-Identifier: MIT
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

#include "outline/survey.h"

namespace warmsheet::outline {
namespace {

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
/// Creases and digits beside their share of the body measure; from memory.
constexpr double own_scatter = 0.04;
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

}  // namespace

Adults::Adults(const std::vector<std::string>& measures, std::size_t count, std::uint64_t seed) {
  constexpr double farthest_sd = 2.5;
  Normal normal(seed);
  for (std::size_t i = 0; i < count; ++i) {
    SurveyRow independent;
    for (double& one : independent) one = normal();
    const SurveyRow body = (i % 2 == 0 ? women_surveyed() : men_surveyed()).person_mm(independent);
    std::vector<double> person;
    for (const std::string& id : measures) {
      const Share& share = *share_of(id);
      const double scatter = std::clamp(normal(), -farthest_sd, farthest_sd);
      person.push_back(share.share * body[share.of] * (share.scattered ? 1.0 + own_scatter * scatter : 1.0));
    }
    people_.push_back(std::move(person));
  }
}

std::optional<Surveyed> surveyed_behind(std::string_view measure) {
  const Share* share = share_of(measure);
  if (share == nullptr) return std::nullopt;
  return share->of;
}

bool Adults::know(const std::string& measure) {
  return share_of(measure) != nullptr;
}

std::vector<Figure> Adults::basis() {
  return {Figure::stated("people of the survey", Range::exactly(6068.0), units::one(),
                         Origin{.basis = Basis::handbook,
                                .source = "army-anthropometry-2012",
                                .where = "means, SD and correlations of the public records"}),
          Figure::stated("scatter of creases and digits", Range::exactly(own_scatter), units::percent(),
                         Origin{.basis = Basis::memory, .where = "shares of palm, hand and forearm"})};
}

}  // namespace warmsheet::outline
