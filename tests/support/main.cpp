// SPDX-License-Identifier: MIT
#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include <cstdlib>

int main(int argc, char** argv) {
  // The property tests are as repeatable as the rest, by hand as under ctest; what the caller sets goes
  // first.
  setenv("RC_PARAMS", "seed=20260101 max_success=300", 0);
  return doctest::Context(argc, argv).run();
}
