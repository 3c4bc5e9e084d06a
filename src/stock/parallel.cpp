// SPDX-License-Identifier: MIT
#include "stock/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace warmsheet::stock {
namespace {

class Crew {
 public:
  Crew(std::size_t count, const Workers& workers, const std::function<void(std::size_t, std::size_t)>& work)
      : count_(count), workers_(workers), work_(work) {}

  bool run() {
    std::vector<std::thread> others;
    const auto wanted = std::min(static_cast<std::size_t>(std::max(1, workers_.threads)), count_);
    for (std::size_t thread = 1; thread < wanted; ++thread)
      others.emplace_back([this, thread] { labour(thread); });
    labour(0);
    for (std::thread& other : others) other.join();
    if (failure_) std::rethrow_exception(failure_);
    return !stopped_;
  }

 private:
  void labour(std::size_t thread) {
    while (!stopped_) {
      const std::size_t index = next_++;
      if (index >= count_) return;
      try {
        if (workers_.stop && workers_.stop())
          stopped_ = true;
        else
          work_(index, thread);
      } catch (...) {
        const std::lock_guard lock(mutex_);
        if (!failure_) failure_ = std::current_exception();
        stopped_ = true;
      }
      ++done_;
      if (thread == 0 && workers_.progress)
        workers_.progress(static_cast<double>(done_) / static_cast<double>(count_));
    }
  }

  std::size_t count_;
  const Workers& workers_;
  const std::function<void(std::size_t, std::size_t)>& work_;
  std::atomic<std::size_t> next_{0};
  std::atomic<std::size_t> done_{0};
  std::atomic<bool> stopped_{false};
  std::mutex mutex_;
  std::exception_ptr failure_;
};

}  // namespace

bool for_each_index(std::size_t count, const Workers& workers,
                    const std::function<void(std::size_t, std::size_t)>& work) {
  return Crew(count, workers, work).run();
}

}  // namespace warmsheet::stock
