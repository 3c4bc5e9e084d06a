// SPDX-License-Identifier: MIT
// Independent pieces of work on a few threads. Which thread does what changes the time, never the result.
#pragma once

#include <cstddef>
#include <functional>

namespace warmsheet::stock {

struct Workers {
  int threads = 1;
  std::function<bool()> stop = {};            ///< asked between pieces of work
  std::function<void(double)> progress = {};  ///< share done, 0 to 1; called from the calling thread only
};

/// Calls work(index, thread) for 0 <= index < count, thread < workers.threads. The first exception is passed
/// on. False if it was stopped before the end.
bool for_each_index(std::size_t count, const Workers& workers,
                    const std::function<void(std::size_t, std::size_t)>& work);

}  // namespace warmsheet::stock
