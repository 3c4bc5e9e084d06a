// SPDX-License-Identifier: MIT
// One file of a library: what it means hangs on the files beside it, so its folder is read and its own
// problems are told.
#pragma once

#include <string>

#include "cli/arguments.h"
#include "cli/session.h"

namespace warmsheet::cli {

/// By its `id`, or by its folder or name where no key of another kind of file tells otherwise. Throws a
/// Failure (data) if it is no TOML.
bool is_library_file(const std::string& path);

/// The id that a file of one entry states; empty if none. Throws a Failure (data) if it is no TOML.
std::string entry_id(const std::string& path);

/// Throws a Failure (data) with what is wrong with this file, or says that its folder must be looked at.
void check_library_file(const std::string& path, const Arguments& arguments, const Session& session);

}  // namespace warmsheet::cli
