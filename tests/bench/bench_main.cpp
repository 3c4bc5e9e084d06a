// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <cstdlib>
#include <exception>

#include "bench/lines.h"

namespace {

using warmsheet::bench::Words;

constexpr const char* usage =
    R"(usage: warmsheet-bench nest FILE.json [--seconds S,S,...] [--threads T] [--seed N] [--passes P] [--processor]
       warmsheet-bench orders [--pieces N,N,...] [--kinds K] [--threads T] [--seed N] [--passes P]
       warmsheet-bench timing [--samples N,N,...]
       warmsheet-bench stock [CASE ...]
)";

int run(const Words& words) {
  struct Part {
    const char* name;
    int (*lines)(const Words&);
  };
  for (const Part& part :
       {Part{"nest", warmsheet::bench::nest_lines}, Part{"orders", warmsheet::bench::order_lines},
        Part{"timing", warmsheet::bench::timing_lines}, Part{"stock", warmsheet::bench::stock_lines}})
    if (!words.empty() && words.front() == part.name) return part.lines({words.begin() + 1, words.end()});
  fmt::print(stderr, "{}", usage);
  return EXIT_FAILURE;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run({argv + 1, argv + argc});
  } catch (const std::exception& problem) {
    fmt::print(stderr, "{}\n", problem.what());
    return EXIT_FAILURE;
  }
}
