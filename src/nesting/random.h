// SPDX-License-Identifier: MIT
// The search's own generator: the standard distributions differ between libraries, and a layout must not.
#pragma once

#include <cstdint>

namespace warmsheet::nesting {

/// SplitMix64 (Steele, Lea, Flood 2014): 64 bits of state, passes the usual batteries, and cheap to fork.
class Random {
 public:
  explicit Random(std::uint64_t seed) : state_(seed) {}

  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31);
  }

  /// In [0, 1): the upper 53 bits.
  double unit() { return static_cast<double>(next() >> 11) * 0x1p-53; }

  double between(double low, double high) { return low + (high - low) * unit(); }

  /// In [0, count). \pre count > 0
  std::size_t below(std::size_t count) {
    return static_cast<std::size_t>(static_cast<double>(count) * unit());
  }

  /// A generator of its own for a worker, the same for the same worker whatever ran before.
  [[nodiscard]] Random fork(std::uint64_t worker) const {
    Random child(state_ ^ (0xd1342543de82ef95ULL * (worker + 1)));
    child.next();
    return child;
  }

 private:
  std::uint64_t state_;
};

}  // namespace warmsheet::nesting
