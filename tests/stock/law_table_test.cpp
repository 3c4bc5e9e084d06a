// SPDX-License-Identifier: MIT
// Laws, levels and fill rates against a table printed by an outside library (outside/discrete_laws.py: scipy
// 1.10.1): Poisson and negative binomial quantiles, cumulative probabilities and losses, and the smallest
// reorder points that reach a fill rate.
#include <doctest/doctest.h>

#include <charconv>
#include <cmath>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

#include "base/file.h"
#include "stock/law.h"
#include "stock/reorder.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::stock;
using testing::near_abs;
using testing::near_rel;

namespace {

struct Row {
  std::string law;
  double first, second, service, level, reached, loss;
};

std::string_view take_cell(std::string_view& line) {
  const std::string_view cell = line.substr(0, line.find(','));
  line.remove_prefix(std::min(cell.size() + 1, line.size()));
  return cell;
}

double take_number(std::string_view& line) {
  const std::string_view cell = take_cell(line);
  double number = std::numeric_limits<double>::quiet_NaN();
  std::from_chars(cell.data(), cell.data() + cell.size(), number);
  REQUIRE(std::isfinite(number));
  return number;
}

std::vector<Row> table(std::string_view law) {
  const std::string text = read_file(std::string(WARMSHEET_TEST_DIR) + "/outside/discrete_laws.csv");
  std::vector<Row> rows;
  for (std::string_view rest = text; !rest.empty();) {
    std::string_view line = rest.substr(0, rest.find('\n'));
    rest.remove_prefix(line.size() + 1);
    if (take_cell(line) != law) continue;
    Row row{std::string(law), 0, 0, 0, 0, 0, 0};
    for (double* number : {&row.first, &row.second, &row.service, &row.level, &row.reached, &row.loss})
      *number = take_number(line);
    rows.push_back(row);
  }
  REQUIRE_FALSE(rows.empty());
  return rows;
}

/// The table prints eleven digits.
constexpr double printed = 1e-9;

void check_law(const Law& law, const Row& row) {
  CAPTURE(row.first);
  CAPTURE(row.second);
  CAPTURE(row.service);
  const int level = static_cast<int>(row.level);
  CHECK(law.quantile(row.service) == level);
  CHECK(near_rel(law.at_most(level), row.reached, printed));
  // A tail is cut off where 1e-16 is left; over some hundred terms that is 1e-12 of loss.
  CHECK(near_abs(law.shortfall(level), row.loss, printed * row.loss + 1e-12));
}

}  // namespace

TEST_CASE("Poisson levels, services and losses are those of an outside library") {
  for (const Row& row : table("poisson")) check_law(Law::poisson(row.first), row);
}

TEST_CASE("negative binomial levels, services and losses are those of an outside library") {
  // Poisson sums of logarithmic sizes are negative binomial (Quenouille 1949): r = first, p = second.
  for (const Row& row : table("nbinom")) {
    std::vector<double> sizes{0.0};
    for (int k = 1; std::pow(1.0 - row.second, k) > 1e-18; ++k)
      sizes.push_back(std::pow(1.0 - row.second, k) / k / -std::log(row.second));
    check_law(compound_poisson(-row.first * std::log(row.second), Law(sizes)), row);
  }
}

TEST_CASE("reorder points for a fill rate are those of an outside library") {
  for (const Row& row : table("fill")) {
    CAPTURE(row.first);
    CAPTURE(row.second);
    CAPTURE(row.service);
    const Law over_lead = Law::poisson(row.first);
    const int quantity = static_cast<int>(row.second);
    const int r = reorder_point_for_fill(over_lead, quantity, row.service);
    CHECK(r == static_cast<int>(row.level));
    CHECK(near_rel(continuous_fill(over_lead, r, quantity), row.reached, printed));
  }
}
