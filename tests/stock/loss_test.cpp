// SPDX-License-Identifier: MIT
#include "stock/loss.h"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "support/near.h"

using namespace warmsheet::stock;
using warmsheet::testing::near_abs;
using warmsheet::testing::near_rel;

TEST_CASE("the standard loss agrees with its table, far out in the tail too") {
  // Computed to 10 digits with scipy 1.10.1; 1.30 to 16 digits in stockpyl (MIT), loss_functions.py; 10 from
  // the answer of M. Maechler on the loss of digits (read as a copy of a question-and-answer page).
  struct Row {
    double z;
    double loss;
    double rel;
  };
  const std::vector<Row> table{
      {-2.0, 2.008490703, 5e-10},       {-1.0, 1.083315471, 5e-10},    {-0.5, 0.6977965574, 1e-10},
      {0.0, 0.3989422804, 2e-10},       {0.25, 0.2863446982, 2e-10},   {0.5, 0.1977965574, 5e-10},
      {0.75, 0.1311669179, 5e-10},      {0.84, 0.1119622885, 5e-10},   {0.85, 0.1099717245, 5e-10},
      {1.0, 0.08331547059, 1e-10},      {1.02, 0.08019043704, 1e-10},  {1.25, 0.05058686831, 2e-10},
      {1.28, 0.04749854332, 2e-10},     {1.5, 0.02930679376, 2e-10},   {1.645, 0.02088564148, 3e-10},
      {1.75, 0.01617379431, 4e-10},     {2.0, 0.008490702617, 1e-10},  {2.05, 0.007418476997, 1e-10},
      {2.326, 0.003392143817, 2e-10},   {2.42, 0.002560901308, 2e-10}, {2.5, 0.002004137179, 3e-10},
      {3.0, 0.000382154317, 2e-9},      {4.0, 7.145258432e-06, 1e-10}, {10.0, 7.474560255e-25, 2e-10},
      {1.3, 0.04552796208651397, 1e-13}};
  for (const Row& row : table) {
    CAPTURE(row.z);
    CHECK(near_rel(standard_loss(row.z), row.loss, row.rel));
  }
}

TEST_CASE("the two forms of the loss meet where one takes over from the other") {
  // Difference over 2e-6 beside the change the slope -Q(5) = -2.8665e-7 (normal table, 5 digits) makes.
  const double below = standard_loss(5.0 - 1e-6);
  const double above = standard_loss(5.0 + 1e-6);
  CHECK(near_rel((below - above) / 2e-6, 2.8665e-7, 5e-5));
}

TEST_CASE("L(-z) is L(z) + z") {
  for (double z = 0.0; z < 6.0; z += 0.37) CHECK(near_rel(standard_loss(-z), standard_loss(z) + z, 1e-13));
}

TEST_CASE("the inverse loss agrees with its table and undoes the loss") {
  // Computed with scipy 1.10.1 (brentq on the loss).
  const std::vector<std::pair<double, double>> table{
      {.1, .9023463475},   {.08, 1.0212388775},  {.05, 1.2555817153}, {.02, 1.6630509418},
      {.01, 1.9383563073}, {.005, 2.1919561516}, {.001, 2.7178055152}};
  for (const auto& [loss, z] : table) CHECK(near_abs(inverse_standard_loss(loss), z, 5e-10));
  for (double z = -3.0; z < 9.0; z += 0.7) CHECK(near_abs(inverse_standard_loss(standard_loss(z)), z, 1e-9));
}

TEST_CASE("the loss of a normal demand agrees with a general-purpose inventory library") {
  // stockpyl (MIT), loss_functions.py: N(15, 3) at 18.6.
  CHECK(near_rel(shortfall({15.0, 3.0}, 18.6), 0.1683073521514889, 1e-12));
}
