// SPDX-License-Identifier: MIT
#include "stock/summary.h"

#include <doctest/doctest.h>

#include "support/near.h"

using namespace warmsheet::stock;
using warmsheet::testing::near_abs;
using warmsheet::testing::near_rel;

TEST_CASE("a ratio of sums and its interval agree with the formula done by hand") {
  // Parts 1, 2, 3 of wholes 2, 2, 5: 6/9; residuals -1/3, 2/3, -1/3, squares 2/3; Student's t of two degrees
  // of freedom at 97.5 % is 4.3027 (printed tables): 4.3027 x sqrt(2/3 / 2 / 3) / 3.
  const Estimate ratio = estimate_of_ratio({1, 2, 3}, {2, 2, 5}).value();
  CHECK(near_rel(ratio.mean, 2.0 / 3.0, 1e-12));
  CHECK(near_abs(ratio.half_width, 4.3027 / 9.0, 1e-4));
}

TEST_CASE("of equal wholes the ratio is the mean of shares") {
  const Estimate ratio = estimate_of_ratio({1, 2, 4, 3}, {5, 5, 5, 5}).value();
  const Estimate mean = estimate({.2, .4, .8, .6});
  CHECK(near_rel(ratio.mean, mean.mean, 1e-12));
  CHECK(near_rel(ratio.half_width, mean.half_width, 1e-12));
}

TEST_CASE("of nothing there is no share") {
  CHECK(!estimate_of_ratio({0, 0}, {0, 0}).has_value());
}
