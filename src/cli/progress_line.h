// SPDX-License-Identifier: MIT
// One line on stderr for somebody who waits longer than a second; nothing where stderr is no terminal or
// --quiet was asked for.
#pragma once

#include <chrono>
#include <ostream>
#include <string>

#include "cli/arguments.h"
#include "cli/session.h"

namespace warmsheet::cli {

class ProgressLine {
 public:
  ProgressLine(Session& session, const Arguments& arguments);
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  /// Wipes the line.
  ~ProgressLine();

  /// Shows the text unless it is too early or the last one is too recent. \pre one column a byte
  void show(const std::string& text);

 private:
  using Clock = std::chrono::steady_clock;
  std::ostream& err_;
  bool wanted_;
  Clock::time_point next_;
  std::size_t shown_ = 0;
};

}  // namespace warmsheet::cli
