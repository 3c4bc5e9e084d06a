// SPDX-License-Identifier: MIT
// A command as data: what it is called, what it takes, what it does. Help, parsing and hints all come from
// this table, so a new command is one file and one row in commands.cpp.
#pragma once

#include <string_view>
#include <vector>

namespace warmsheet::cli {

class Arguments;
class Session;

struct Option {
  std::string_view name;  ///< "--bath"
  /// "TEMPERATURE", or the words to choose from, "a4|letter"; empty for a switch. Completion knows the names
  /// of completion.cpp, such as SHEET, and FILE and DIR.
  std::string_view value;
  std::string_view help;  ///< one line
  bool repeatable = false;
};

struct OptionGroup {
  std::string_view title;
  std::vector<Option> options;
};

struct Command {
  std::string_view name;
  std::string_view summary;     ///< one line for the list of commands
  std::string_view about;       ///< a few sentences for its own help
  std::string_view positional;  ///< "OUTLINE[*N] ..."; empty if it takes none; same names as for options
  std::string_view positional_help;
  bool positional_required = false;
  std::vector<std::string_view> examples;
  std::vector<OptionGroup> groups;  ///< the common options are added to every command
  int (*run)(const Arguments&, Session&);
};

/// Every command that works, in the order of the job.
const std::vector<Command>& commands();

/// Options that every command takes.
const OptionGroup& common_options();

/// Its own options, then the common ones.
std::vector<Option> options_of(const Command& command);

/// Nothing if there is no command of that name.
const Command* find_command(std::string_view name);

}  // namespace warmsheet::cli
