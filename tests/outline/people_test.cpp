// SPDX-License-Identifier: MIT
// Every shipped design drawn for people as they are distributed, all measures at once.
#include <doctest/doctest.h>

#include <map>
#include <set>
#include <string>

#include "outline/design_fixture.h"
#include "outline/geos.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::testing;

namespace {

constexpr int adults_of_each_sex = 200;
constexpr int children_of_each_age = 25;

std::vector<Person> crowd() {
  Normal normal(20260101);
  std::vector<Person> people;
  for (int i = 0; i < adults_of_each_sex; ++i)
    for (const bool woman : {true, false}) people.push_back(adult(normal, woman));
  for (const Age& age : ages())
    for (int i = 0; i < children_of_each_age; ++i) people.push_back(child(normal, age));
  return people;
}

/// Skin of hand and forearm, mm2: a tapered tube, and a hand 2.2 times its length times its breadth (front
/// and back with the fingers' sides; from memory).
double skin_mm2(const Person& p) {
  const double arm = p.at("forearm_length") * 0.5 * (p.at("wrist_girth") + 1.15 * p.at("forearm_girth"));
  return arm + 2.2 * p.at("hand_length") * p.at("hand_breadth");
}

}  // namespace

TEST_CASE("the invented adults have the survey's means, spread and correlation") {
  Normal normal(7);
  constexpr int count = 20'000;
  for (const Sample* sample : {&women(), &men()}) {
    Dimensions sum{};
    Dimensions squares{};
    double girth_with_wrist = 0.0;
    for (int i = 0; i < count; ++i) {
      const Dimensions d = draw_from(*sample, normal);
      for (std::size_t k = 0; k < dimensions; ++k) {
        sum[k] += d[k];
        squares[k] += (d[k] - sample->mean[k]) * (d[k] - sample->mean[k]);
      }
      girth_with_wrist += (d[3] - sample->mean[3]) / sample->sd[3] * (d[4] - sample->mean[4]) / sample->sd[4];
    }
    for (std::size_t k = 0; k < dimensions; ++k) {  // four standard errors of 20 000 draws
      CHECK(near_abs(sum[k] / count, sample->mean[k], 4.0 * sample->sd[k] / std::sqrt(count)));
      CHECK(near_rel(std::sqrt(squares[k] / count), sample->sd[k], 4.0 / std::sqrt(2.0 * count)));
    }
    CHECK(near_abs(girth_with_wrist / count, sample->correlation[4][3], 0.03));
  }
}

TEST_CASE("every design closes for everybody, and keeps the trade's rules for all but a few") {
  const std::vector<Person> people = crowd();
  CHECK_FALSE(shipped().designs.empty());
  for (const auto& [id, design] : shipped().designs) {
    const auto& of_id = id;  // clang 14 captures no structured binding
    CAPTURE(of_id);
    std::map<std::string, int> broken;
    for (const Person& person : people) {
      const outline::Outline drawn =
          outline::draw(design, shipped(), measures_for(design, person), outline::Side::right);
      CHECK(drawn.shape.holes().size() == design.holes.size());
      CHECK(drawn.shape.area_mm2() < skin_mm2(person));
      for (const outline::RuleCheck& check : drawn.checks)
        if (!check.kept) ++broken[check.id];
    }
    for (const auto& [rule, times] : broken) {
      const auto& of_rule = rule;
      CAPTURE(of_rule);
      CHECK(times <= static_cast<int>(0.05 * static_cast<double>(people.size())));
    }
  }
}

TEST_CASE("a pattern grows with the hand: its area stays nearly the same share of the limb's skin") {
  const Person usual = usual_adult();
  for (const auto& [id, design] : shipped().designs) {
    const auto& of_id = id;
    CAPTURE(of_id);
    const auto share = [&, &design = design](const Person& person) {
      return outline::draw(design, shipped(), measures_for(design, person), outline::Side::right)
                 .shape.area_mm2() /
             skin_mm2(person);
    };
    const double expected = share(usual);
    Normal normal(11);
    for (int i = 0; i < 60; ++i) {
      const Person person = i % 2 == 0 ? adult(normal, i % 4 == 0)
                                       : child(normal, ages()[static_cast<std::size_t>(i) % ages().size()]);
      // Allowances (laps, clearances) do not shrink with the hand, and limbs differ: half as much again
      // either way.
      const double ratio = share(person) / expected;
      CHECK(ratio > 1.0 / 1.5);
      CHECK(ratio < 1.5);
    }
  }
}
