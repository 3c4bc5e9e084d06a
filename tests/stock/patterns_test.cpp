// SPDX-License-Identifier: MIT
#include "stock/patterns.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>
#include <vector>

#include "knapsack.h"
#include "support/near.h"

using namespace warmsheet::stock;
using warmsheet::testing::Knapsack;
using warmsheet::testing::near_abs;

namespace {

struct Instance {
  const char* source;
  double roll;
  std::vector<double> widths;
  std::vector<int> demand;
  double fractional;
  double printed;  // of the fractional optimum
  int whole;
};

const std::vector<Instance>& instances() {
  // Whole optima confirmed with HiGHS (scipy 1.10.1), GLPK 5.0 and CBC 2.10.8.
  static const std::vector<Instance> all{
      {"paper rolls of 5600, 13 widths (open encyclopaedia, \"Cutting stock problem\")",
       5600,
       {1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200},
       {22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20},
       72.916667,
       1e-6,
       73},
      {"Chvatal, Linear Programming (1983), ch. 13 (optima from memory, recomputed)",
       100,
       {45, 36, 31, 14},
       {97, 610, 395, 211},
       452.25,
       1e-6,
       453},
      {"AMPL book, rolls of 110 (optima from memory, recomputed)",
       110,
       {20, 45, 50, 55, 75},
       {48, 35, 24, 10, 8},
       46.25,
       1e-6,
       47},
      {"Mosel guide, rolls of 94 with a width of 22.5",
       94,
       {17, 21, 22.5, 24, 29.5},
       {150, 96, 48, 108, 227},
       160.952381,
       1e-6,
       161}};
  return all;
}

}  // namespace

TEST_CASE("fractions of rolls are as few as is known, cover what is asked for, and bound the whole rolls") {
  for (const Instance& instance : instances()) {
    CAPTURE(instance.source);
    const Knapsack knapsack(instance.roll, instance.widths);
    double fractional = 0.0;
    std::vector<double> made(instance.demand.size(), 0.0);
    for (const PatternUse& use : fractional_plan(instance.demand, knapsack)) {
      fractional += use.sheets;
      double width = 0.0;
      for (std::size_t i = 0; i < made.size(); ++i) {
        made[i] += use.sheets * use.pattern[i];
        width += use.pattern[i] * instance.widths[i];
      }
      CHECK(width <= instance.roll + 1e-9);
    }
    CHECK(near_abs(fractional, instance.fractional, instance.printed));
    CHECK(std::ceil(fractional - 1e-6) == instance.whole);
    for (std::size_t i = 0; i < made.size(); ++i) CHECK(made[i] >= instance.demand[i] - 1e-6);
  }
}

TEST_CASE("the bound is that of published examples, where whole rolls need one more") {
  // Fieldhouse 1990: bound 59/30, three needed. Gau 1994: bound 259/132, three needed (values from memory,
  // recomputed).
  for (const auto& [roll, widths, demand, fractional] :
       std::vector<std::tuple<double, std::vector<double>, std::vector<int>, double>>{
           {30, {15, 10, 6}, {1, 2, 4}, 59.0 / 30.0}, {132, {44, 33, 12}, {2, 3, 6}, 259.0 / 132.0}}) {
    const Knapsack knapsack(roll, widths);
    double seen = 0.0;
    // The printed bound allows patterns with more of a width than is asked for.
    const BestPattern any_number = [&](const std::vector<double>& worth, const std::vector<int>&) {
      return knapsack(worth, std::vector<int>(worth.size(), 100));
    };
    for (const PatternUse& use : fractional_plan(demand, any_number)) seen += use.sheets;
    CHECK(near_abs(seen, fractional, 1e-9));
  }
}

TEST_CASE("nothing asked for needs no sheet") {
  const Knapsack knapsack(10, {3, 4});
  CHECK(fractional_plan({0, 0}, knapsack).empty());
  CHECK(fractional_plan({0, 2}, knapsack).front().sheets == 1.0);
}
