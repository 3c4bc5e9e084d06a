// SPDX-License-Identifier: MIT
// Independent work on threads: what is promised of its result, whatever their number.
#include "base/parallel.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <stdexcept>
#include <string>
#include <vector>

using namespace warmsheet;

TEST_CASE("work is done once each on any number of threads, and the first failure is the one reported") {
  for (const int threads : {1, 2, 7}) {
    CAPTURE(threads);
    std::vector<int> done(100, 0);
    in_parallel(100, threads, [&](std::size_t i) { ++done[i]; });
    CHECK(std::all_of(done.begin(), done.end(), [](int d) { return d == 1; }));
    try {
      in_parallel(100, threads, [](std::size_t i) {
        if (i % 30 == 17) throw std::runtime_error(std::to_string(i));
      });
      FAIL("nothing was thrown");
    } catch (const std::runtime_error& failure) {
      CHECK(std::string(failure.what()) == "17");
    }
  }
  in_parallel(0, 2, [](std::size_t) { FAIL("no work"); });
}

TEST_CASE("work that is stopped ends between two pieces and says so, and progress ends at the whole") {
  int pieces = 0;
  const Workers stopped{.threads = 1, .stop = [&] { return pieces == 3; }};
  CHECK_FALSE(for_each_index(10, stopped, [&](std::size_t, std::size_t) { ++pieces; }));
  CHECK(pieces == 3);
  double last = 0.0;
  const Workers told{.threads = 1, .progress = [&](double share) { last = share; }};
  CHECK(for_each_index(10, told, [](std::size_t, std::size_t) {}));
  CHECK(last == 1.0);
}
