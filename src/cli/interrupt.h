// SPDX-License-Identifier: MIT
// ctrl-C during a search: the first one asks for the best layout so far, a second one ends the program as
// usual.
#pragma once

namespace warmsheet::cli {

/// Catches SIGINT while it lives.
class InterruptWatch {
 public:
  InterruptWatch();
  ~InterruptWatch();
  InterruptWatch(const InterruptWatch&) = delete;
  InterruptWatch& operator=(const InterruptWatch&) = delete;

  [[nodiscard]] static bool interrupted();
};

}  // namespace warmsheet::cli
