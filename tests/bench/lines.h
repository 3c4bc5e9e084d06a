// SPDX-License-Identifier: MIT
// `warmsheet-bench` measures whole jobs and prints one JSON line a case. Each part takes the words after its
// name and returns the exit code.
#pragma once

#include <chrono>
#include <ctime>
#include <string>
#include <vector>

namespace warmsheet::bench {

using Words = std::vector<std::string>;

int nest_lines(const Words& words);
int order_lines(const Words& words);
int timing_lines(const Words& words);
int stock_lines(const Words& words);

/// Wall and processor seconds since it was made; the processor's are summed over threads.
class Stopwatch {
 public:
  [[nodiscard]] double seconds() const {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
  }
  [[nodiscard]] double processor_seconds() const {
    return static_cast<double>(std::clock() - processor_start_) / CLOCKS_PER_SEC;
  }

 private:
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
  std::clock_t processor_start_ = std::clock();
};

}  // namespace warmsheet::bench
