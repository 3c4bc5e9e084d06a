// SPDX-License-Identifier: MIT
// The whole program in one call, as its user would run it, without a process.
#pragma once

#include <sstream>
#include <string>
#include <vector>

#include "cli/run.h"

namespace warmsheet::testing {

struct Ran {
  int code;
  std::string out;
  std::string err;
};

inline Ran run_program(const std::vector<std::string>& words) {
  std::ostringstream out;
  std::ostringstream err;
  const int code = cli::run(words, cli::Environment{}, out, err);
  return {code, out.str(), err.str()};
}

}  // namespace warmsheet::testing
