// SPDX-License-Identifier: MIT
#include "base/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>

namespace warmsheet {
namespace {

constexpr unsigned most_usual_threads = 16;

class Crew {
 public:
  Crew(std::size_t count, const Workers& workers, const std::function<void(std::size_t, std::size_t)>& work)
      : count_(count), workers_(workers), work_(work), failed_(count) {}

  bool run() {
    {
      std::vector<std::jthread> others;
      const auto wanted = std::min(static_cast<std::size_t>(std::max(1, workers_.threads)), count_);
      try {
        for (std::size_t thread = 1; thread < wanted; ++thread)
          others.emplace_back([this, thread] { labour(thread); });
      } catch (const std::system_error&) {
        // No more threads are to be had here: those that began, and this one, do it all.
      }
      labour(0);
    }
    if (failure_) std::rethrow_exception(failure_);
    return !stopped_;
  }

 private:
  void labour(std::size_t thread) {
    while (!stopped_) {
      const std::size_t index = next_++;
      if (index >= count_) return;
      attempt(index, thread);
      ++done_;
      if (thread == 0 && workers_.progress)
        workers_.progress(static_cast<double>(done_) / static_cast<double>(count_));
    }
  }

  // Numbers are handed out in order, so all lower ones have begun when one fails: the lowest failure is the
  // same on any number of threads.
  void attempt(std::size_t index, std::size_t thread) {
    try {
      if (workers_.stop && workers_.stop())
        stopped_ = true;
      else
        work_(index, thread);
    } catch (...) {
      const std::lock_guard lock(mutex_);
      if (index < failed_) {
        failed_ = index;
        failure_ = std::current_exception();
      }
      stopped_ = true;
    }
  }

  std::size_t count_;
  const Workers& workers_;
  const std::function<void(std::size_t, std::size_t)>& work_;
  std::atomic<std::size_t> next_{0};
  std::atomic<std::size_t> done_{0};
  std::atomic<bool> stopped_{false};
  std::mutex mutex_;
  std::size_t failed_;
  std::exception_ptr failure_;
};

}  // namespace

int usual_threads() {
  return static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1U, most_usual_threads));
}

bool for_each_index(std::size_t count, const Workers& workers,
                    const std::function<void(std::size_t, std::size_t)>& work) {
  return Crew(count, workers, work).run();
}

void in_parallel(std::size_t count, int threads, const std::function<void(std::size_t)>& work) {
  for_each_index(count, {.threads = threads}, [&](std::size_t index, std::size_t) { work(index); });
}

}  // namespace warmsheet
