// SPDX-License-Identifier: MIT
// A general-purpose solver of integer programmes, glpsol of the Debian package glpk-utils, as an outside
// oracle: the same problems are written as text, solved by it, and compared.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "base/file.h"
#include "knapsack.h"
#include "nesting/random.h"
#include "stock/law.h"
#include "stock/patterns.h"
#include "stock/reorder.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::stock;
using testing::near_abs;
using testing::near_rel;

namespace {

/// Objective of a model in CPLEX LP format.
double glpsol(const std::string& model) {
  const testing::Scratch folder;
  const std::string file = folder.file("model.lp", model);
  const std::string answer = file + ".out";
  const std::string command =
      fmt::format("glpsol --lp '{}' --tmlim 60 -w '{}' >/dev/null 2>&1", file, answer);
  REQUIRE_MESSAGE(std::system(command.c_str()) == 0, "needs glpsol (Debian: glpk-utils)");
  const std::string text = read_file(answer);
  // "s mip rows columns status objective" or "s bas rows columns p d objective"; o is optimal, f feasible.
  const std::size_t line = text.find("\ns ");
  REQUIRE(line != std::string::npos);
  const std::string solution = text.substr(line + 1, text.find('\n', line + 1) - line - 1);
  REQUIRE((solution.find(" o ") != std::string::npos || solution.find(" f f ") != std::string::npos));
  return std::stod(solution.substr(solution.rfind(' ') + 1));
}

/// All maximal ways to cut a roll, by counting through them.
void list_patterns(double left, const std::vector<double>& widths, std::size_t at, Pattern& now,
                   std::vector<Pattern>& all) {
  if (at == widths.size()) {
    for (const double w : widths)
      if (w <= left + 1e-9) return;
    all.push_back(now);
    return;
  }
  for (int n = static_cast<int>(std::floor(left / widths[at] + 1e-9)); n >= 0; --n) {
    now[at] = n;
    list_patterns(left - n * widths[at], widths, at + 1, now, all);
  }
  now[at] = 0;
}

/// Cutting stock over all patterns: whole rolls, or fractions of them.
std::string cutting_model(double roll, const std::vector<double>& widths, const std::vector<int>& demand,
                          bool whole) {
  std::vector<Pattern> patterns;
  Pattern now(widths.size(), 0);
  list_patterns(roll, widths, 0, now, patterns);
  std::string model = "Minimize\n rolls:";
  for (std::size_t p = 0; p < patterns.size(); ++p) model += fmt::format(" + x{}\n", p);
  model += "Subject To\n";
  for (std::size_t i = 0; i < widths.size(); ++i) {
    model += fmt::format(" c{}:", i);
    for (std::size_t p = 0; p < patterns.size(); ++p)
      if (patterns[p][i] > 0) model += fmt::format(" + {} x{}\n", patterns[p][i], p);
    model += fmt::format(" >= {}\n", demand[i]);
  }
  if (whole) {
    model += "General\n";
    for (std::size_t p = 0; p < patterns.size(); ++p) model += fmt::format(" x{}\n", p);
  }
  return model + "End\n";
}

struct Rolls {
  double roll;
  std::vector<double> widths;
  std::vector<int> demand;
};

Rolls any_rolls(nesting::Random& random) {
  Rolls rolls{100.0, {}, {}};
  for (int i = 0; i < 5; ++i) {
    rolls.widths.push_back(18.0 + static_cast<double>(random.below(50)));
    rolls.demand.push_back(1 + static_cast<int>(random.below(30)));
  }
  return rolls;
}

double fractional_sheets(const std::vector<PatternUse>& plan) {
  double sheets = 0.0;
  for (const PatternUse& use : plan) sheets += use.sheets;
  return sheets;
}

}  // namespace

TEST_CASE("fractions of rolls are as few as an outside solver finds, and no whole plan of it needs fewer") {
  nesting::Random random(7);
  for (int round = 0; round < 12; ++round) {
    CAPTURE(round);
    const Rolls rolls = any_rolls(random);
    const testing::Knapsack best(rolls.roll, rolls.widths);
    const double relaxed = glpsol(cutting_model(rolls.roll, rolls.widths, rolls.demand, false));
    CHECK(near_rel(fractional_sheets(fractional_plan(rolls.demand, best)), relaxed, 1e-6));
    CHECK(relaxed <= glpsol(cutting_model(rolls.roll, rolls.widths, rolls.demand, true)) + 1e-6);
  }
}

TEST_CASE("the newsvendor's level and cost are an outside solver's") {
  // One level S against Poisson demand k with chance p_k: holding h on what is left, b on what is short. A
  // linear programme; its optimum lies at a whole level, which need not be written into it. Chances straight
  // from the definition.
  for (const double mean : {0.7, 3.0, 8.0, 20.0}) {
    CAPTURE(mean);
    const double h = 1.0;
    const double b = 6.0;
    std::string objective = "Minimize\n cost:";
    std::string rows = "Subject To\n";
    for (int k = 0; k <= 80; ++k) {
      const double p = std::exp(-mean + k * std::log(mean) - std::lgamma(k + 1.0));
      objective += fmt::format(" + {:.15e} l{} + {:.15e} s{}\n", h * p, k, b * p, k);
      rows += fmt::format(" left{0}: l{0} - level >= {1}\n short{0}: s{0} + level >= {2}\n", k, -k, k);
    }
    const double cost = glpsol(objective + rows + "End\n");
    const Law demand = Law::poisson(mean);
    const auto cost_at = [&](int s) { return h * demand.leftover(s) + b * demand.shortfall(s); };
    const int level = demand.quantile(b / (b + h));
    CHECK(near_rel(cost_at(level), cost, 1e-7));
    CHECK(cost_at(level - 1) >= cost);
    CHECK(cost_at(level + 1) >= cost);
  }
}
