// SPDX-License-Identifier: MIT
// What a call had to say when it refused: the tests look at the words, since these are all a user gets.
#pragma once

#include <string>

#include "base/problem.h"

namespace warmsheet::testing {

/// All problems as text; "" if nothing was refused.
template <class Call>
std::string refusal_of(Call call) {
  try {
    call();
  } catch (const Failure& failure) {
    return failure.what();
  }
  return {};
}

inline bool holds(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace warmsheet::testing
