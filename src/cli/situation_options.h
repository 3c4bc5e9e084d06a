// SPDX-License-Identifier: MIT
// From typed options to a request for a timing.
#pragma once

#include "cli/arguments.h"
#include "cli/command.h"
#include "heat/situation.h"

namespace warmsheet::cli {

std::vector<OptionGroup> situation_option_groups();
heat::Request situation_request(const Arguments& arguments);

}  // namespace warmsheet::cli
