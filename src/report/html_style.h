// SPDX-License-Identifier: MIT
#pragma once

#include <string>

namespace warmsheet::report {

/// The style sheet of a page: one column as wide as a printed page, black on white, nothing fetched.
std::string html_style();

}  // namespace warmsheet::report
