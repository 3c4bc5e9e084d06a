// SPDX-License-Identifier: MIT
// Used while the program is built: materials/ as one C++ source.
#pragma once

#include <string>

namespace warmsheet::library {

/// A source that defines `built_in_files()` with every .toml below `folder`, sorted by name.
/// Throws a Failure (data) with the place of what is no TOML.
std::string built_in_source(const std::string& folder);

}  // namespace warmsheet::library
