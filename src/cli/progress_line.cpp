// SPDX-License-Identifier: MIT
#include "cli/progress_line.h"

namespace warmsheet::cli {
namespace {

constexpr std::chrono::milliseconds first_after{1000};
constexpr std::chrono::milliseconds then_every{250};
constexpr std::size_t most_columns = 79;

}  // namespace

ProgressLine::ProgressLine(Session& session, const Arguments& arguments)
    : err_(session.err()),
      wanted_(session.environment().err_is_terminal && !arguments.flag("--quiet")),
      next_(Clock::now() + first_after) {}

ProgressLine::~ProgressLine() {
  if (shown_ > 0) err_ << "\r" << std::string(shown_, ' ') << "\r" << std::flush;
}

void ProgressLine::show(const std::string& text) {
  if (!wanted_ || Clock::now() < next_) return;
  next_ = Clock::now() + then_every;
  std::string line = text.substr(0, most_columns);
  const std::size_t length = line.size();
  if (length < shown_) line.append(shown_ - length, ' ');
  shown_ = length;
  err_ << "\r" << line << std::flush;
}

}  // namespace warmsheet::cli
