// SPDX-License-Identifier: MIT
// Reads back the layout in a document that `nest --json` or `plan --json` wrote.
#pragma once

#include <string>
#include <string_view>

#include "plan/saved_layout.h"

namespace warmsheet::report {

/// Throws a Failure (data) with what is wrong and where: no JSON, no layout in it, a value of another kind.
plan::SavedLayout parse_layout(std::string_view json, const std::string& file);

}  // namespace warmsheet::report
