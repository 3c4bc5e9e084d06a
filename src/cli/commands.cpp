// SPDX-License-Identifier: MIT
#include "cli/command.h"

namespace warmsheet::cli {

// One file each.
extern const Command plan_command;
extern const Command choose_command;
extern const Command timing_command;
extern const Command outline_command;
extern const Command nest_command;
extern const Command stock_command;
extern const Command calibrate_command;
extern const Command sheets_command;
extern const Command check_command;

const std::vector<Command>& commands() {
  static const std::vector<Command> all{plan_command,      choose_command, timing_command,
                                        outline_command,   nest_command,   stock_command,
                                        calibrate_command, sheets_command, check_command};
  return all;
}

const OptionGroup& common_options() {
  static const OptionGroup group{
      "Every command",
      {{"--json", "", "one JSON document on standard output"},
       {"--why", "NAME", "the whole tree under one figure, down to library entries"},
       {"--html", "FILE", "also write one self-contained HTML page"},
       {"--library", "DIR", "lay this folder over the library (see materials/README.md)", true},
       {"--quiet", "", "cautions and results only"},
       {"--color", "auto|always|never", "in the text on a terminal"},
       {"--help", "", "this help"}}};
  return group;
}

std::vector<Option> options_of(const Command& command) {
  std::vector<Option> options;
  for (const OptionGroup& group : command.groups)
    options.insert(options.end(), group.options.begin(), group.options.end());
  options.insert(options.end(), common_options().options.begin(), common_options().options.end());
  return options;
}

const Command* find_command(std::string_view name) {
  for (const Command& command : commands())
    if (command.name == name) return &command;
  return nullptr;
}

}  // namespace warmsheet::cli
