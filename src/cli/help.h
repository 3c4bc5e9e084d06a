// SPDX-License-Identifier: MIT
// Help of the whole program and of one command, from the command table; at most 80 columns.
#pragma once

#include <string>

#include "cli/command.h"

namespace warmsheet::cli {

std::string program_help();
std::string command_help(const Command& command);

/// What the exit codes mean; in the help and in the manual.
inline constexpr std::string_view exit_code_text =
    "0 done; 1 the answer is no (no fit, no safe window); 2 usage; 3 bad data; 4 could not write; "
    "130 stopped by ctrl-C before there was an answer.";

/// What the figures are worth; in the help and in the manual.
inline constexpr std::string_view worth_text =
    "Every figure is marked with where it comes from. It is an estimate that supports, and never replaces, "
    "the prescription, your own hand test and licensed practice.";

}  // namespace warmsheet::cli
