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
       {"--color", "WHEN", "auto, always or never"},
       {"--help", "", "this help"}}};
  return group;
}

}  // namespace warmsheet::cli
