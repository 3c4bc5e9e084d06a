// SPDX-License-Identifier: MIT
// Independent pieces of work on a few threads. Which thread does what changes the time, never the result.
#pragma once

#include <cstddef>
#include <functional>

namespace warmsheet {

/// As many as the machine has, within reason: more never helped work that is soon done.
int usual_threads();

struct Workers {
  int threads = 1;
  std::function<bool()> stop = {};            ///< asked between pieces of work
  std::function<void(double)> progress = {};  ///< share done, 0 to 1; called from the calling thread only
};

/// Calls work(index, thread) for 0 <= index < count, thread < workers.threads. `work` must only write what
/// belongs to its index or its thread. Passes on the failure with the lowest index. False if it was stopped
/// before the end.
bool for_each_index(std::size_t count, const Workers& workers,
                    const std::function<void(std::size_t, std::size_t)>& work);

/// The same for work that needs no thread and is not stopped.
void in_parallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work);

}  // namespace warmsheet
