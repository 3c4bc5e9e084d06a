// SPDX-License-Identifier: MIT
// People to draw for: the joint distribution of adults' hand and arm measures, and children's by age.
//
// Adults: outline/survey.h. Children: Snyder et al. 1977, UM-HSRI-77-17, cell means and SD computed from the
// published individual records. Creases, knuckles and digits have no open adult survey: their shares of palm
// length and hand breadth are from memory, and each person gets 4 % of independent scatter on every one of
// them.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <map>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "outline/survey.h"

namespace warmsheet::testing {

/// Measures in mm by their ids.
using Person = std::map<std::string, double>;

/// Normal numbers that are the same with every standard library.
class Normal {
 public:
  explicit Normal(unsigned seed) : bits_(seed) {}
  double operator()() {  // Box and Muller
    const double u = (static_cast<double>(bits_()) + 1.0) / 4294967297.0;
    const double v = static_cast<double>(bits_()) / 4294967296.0;
    return std::sqrt(-2.0 * std::log(u)) * std::cos(2.0 * std::numbers::pi * v);
  }

 private:
  std::mt19937 bits_;
};

inline outline::SurveyRow draw_from(const outline::Survey& survey, Normal& normal) {
  outline::SurveyRow z;
  for (double& one : z) one = normal();
  return survey.person_mm(z);
}

/// Everything a design may ask for, from the seven surveyed dimensions. `relaxed` is the share of the
/// surveyed forearm girth that a resting forearm has two thirds of the way up (the army survey took it at its
/// largest, fist clenched).
inline Person person_of(const outline::SurveyRow& d, double relaxed, Normal& normal) {
  const auto [hand, palm, breadth, girth, wrist, forearm, radius] = d;
  const auto about = [&](double mm) { return mm * (1.0 + 0.04 * std::clamp(normal(), -2.5, 2.5)); };
  const double thumb_mm =
      std::numbers::pi * 0.237 * breadth;  // thumb diameter over hand breadth, 1977 survey
  Person p{{"hand_length", hand},
           {"palm_length", palm},
           {"hand_breadth", breadth},
           {"hand_girth", girth},
           {"wrist_girth", wrist},
           {"forearm_girth", relaxed * forearm},
           {"forearm_length", about(radius)}};
  p["crease_radial"] = about(0.78 * palm);
  p["crease_ulnar"] = std::min(about(0.66 * palm), p["crease_radial"]);
  p["thenar_length"] = about(0.49 * palm);
  p["knuckle_radial"] = about(0.81 * palm);
  p["knuckle_ulnar"] = std::min(about(0.69 * palm), p["knuckle_radial"]);
  p["thumb_girth"] = about(thumb_mm);
  p["thumb_segment"] = about(0.32 * palm);
  p["thumb_reach"] = about(1.0 * palm);
  p["ring_reach"] = about(0.955 * hand);
  p["middle_reach"] = about(hand);
  p["finger_girth"] = about(0.75 * breadth);
  p["finger_length"] = about(hand - palm);
  p["tip_girth"] = about(0.63 * breadth);
  p["end_length"] = about(0.63 * (hand - palm));
  p["upper_arm_length"] = about(1.02 * radius);
  p["upper_arm_girth"] = about(1.2 * p["forearm_girth"]);
  p["elbow_girth"] = about(1.06 * p["forearm_girth"]);
  return p;
}

inline Person adult(Normal& normal, bool woman) {
  return person_of(draw_from(woman ? outline::women_surveyed() : outline::men_surveyed(), normal), 0.88,
                   normal);
}

/// Means and SD of hand length, hand breadth, wrist girth, forearm girth (relaxed), radiale-stylion length,
/// mm.
struct Age {
  double years;
  std::array<double, 5> mean;
  std::array<double, 5> sd;
};

inline const std::vector<Age>& ages() {
  static const std::vector<Age> rows{
      {2.75, {105.5, 51.0, 113.2, 156.8, 134.8}, {7.4, 4.0, 8.4, 10.4, 11.3}},  // both sexes
      {4.0, {114.3, 54.1, 115.0, 160.2, 145.8}, {7.2, 3.4, 8.7, 10.4, 11.9}},
      {5.0, {120.1, 56.2, 118.0, 165.8, 157.2}, {7.9, 3.7, 8.1, 11.0, 11.8}},
      {6.0, {127.2, 59.2, 121.8, 170.3, 167.7}, {7.8, 3.9, 7.8, 11.9, 13.0}},
      {8.0, {138.1, 64.0, 128.2, 184.7, 185.9}, {7.8, 4.1, 10.2, 15.3, 15.4}},
      {10.0, {150.2, 68.4, 134.8, 196.4, 202.8}, {8.8, 4.2, 13.8, 16.9, 14.8}},
      {12.0, {162.6, 73.3, 142.0, 210.1, 223.8}, {10.1, 4.8, 11.7, 17.8, 17.7}},
      {14.0, {174.8, 79.3, 152.6, 229.2, 241.1}, {11.4, 6.4, 11.5, 19.7, 21.0}},
      {16.0, {180.3, 81.8, 159.6, 246.0, 249.3}, {12.6, 7.9, 14.5, 24.8, 21.7}},
  };
  return rows;
}

/// Within one age, sizes go together: half of the variance is taken as common to all dimensions (from
/// memory).
inline Person child(Normal& normal, const Age& age) {
  const double common = normal();
  std::array<double, 5> d = age.mean;
  for (std::size_t i = 0; i < d.size(); ++i)
    d[i] += age.sd[i] * std::clamp((common + normal()) / std::numbers::sqrt2, -2.5, 2.5);
  // Palm over hand length 0.60 and hand girth over breadth 2.40, as in adults.
  return person_of({d[0], 0.60 * d[0], d[1], 2.40 * d[1], d[2], d[3], d[4]}, 1.0, normal);
}

}  // namespace warmsheet::testing
