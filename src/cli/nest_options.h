// SPDX-License-Identifier: MIT
// What `nest` takes: outlines with how many, sheets and offcuts with their spoilt zones, what belongs
// together, what goes first, what lies already.
#pragma once

#include <vector>

#include "cli/arguments.h"
#include "cli/command.h"
#include "library/library.h"
#include "plan/cutting.h"

namespace warmsheet::cli {

std::vector<OptionGroup> nest_option_groups();

/// Sheets in the order typed. Throws a Failure (usage) if there are none.
std::vector<plan::SheetSize> sheets_from(const Arguments& arguments, const library::Library& library);

plan::CutRequest cut_request_from(const Arguments& arguments, const library::Library& library);

/// --kerf, a knife's without it.
Figure kerf_from(const Arguments& arguments);

}  // namespace warmsheet::cli
