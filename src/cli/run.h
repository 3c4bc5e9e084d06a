// SPDX-License-Identifier: MIT
#pragma once

#include <ostream>
#include <string>
#include <vector>

#include "cli/environment.h"

namespace warmsheet::cli {

/// Runs the program with these words (without the program's name) and returns its exit code. Results go to
/// `out`, messages to `err`; a stream that could not take them makes the exit code 4.
int run(const std::vector<std::string>& words, const Environment& environment, std::ostream& out,
        std::ostream& err);

}  // namespace warmsheet::cli
