// SPDX-License-Identifier: MIT
// From argv to a command and its texts. The only file behind this header knows the argument library; it never
// converts a number, since the library takes "-1", "nan" and "" for numbers without a word.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/arguments.h"
#include "cli/command.h"

namespace warmsheet::cli {

/// Either a command to run or a text that was asked for (help, version).
struct Parsed {
  const Command* command = nullptr;
  Arguments arguments{{}, {}};
  std::string text;
};

/// Throws a Failure (usage) with the nearest known command or option.
Parsed parse_command_line(const std::vector<std::string>& words);

}  // namespace warmsheet::cli
