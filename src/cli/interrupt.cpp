// SPDX-License-Identifier: MIT
#include "cli/interrupt.h"

#include <atomic>
#include <csignal>

namespace warmsheet::cli {
namespace {

// A handler can reach nothing but global state, and workers read it from other threads.
std::atomic<bool> seen{false};
static_assert(std::atomic<bool>::is_always_lock_free, "only lock-free state is safe in a handler");

void note(int) {
  seen = true;
  std::signal(SIGINT, SIG_DFL);
}

}  // namespace

InterruptWatch::InterruptWatch() {
  seen = false;
  std::signal(SIGINT, note);
}

InterruptWatch::~InterruptWatch() {
  std::signal(SIGINT, SIG_DFL);
}

bool InterruptWatch::interrupted() {
  return seen;
}

}  // namespace warmsheet::cli
