// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <utility>

#include "base/problem.h"

namespace warmsheet::outline {

/// What a file holds cannot become an outline. `message` says what was seen, `hint` what to do next.
[[noreturn]] inline void refuse(const Place& place, std::string message, std::string hint) {
  throw Failure(Problem{Trouble::data, place, std::move(message), std::move(hint)});
}

}  // namespace warmsheet::outline
