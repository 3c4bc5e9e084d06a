// SPDX-License-Identifier: MIT
// A TOML tree as bytes, for the library that is compiled in. Reading them back costs a fifth of parsing the
// text again, and parsing was more than half of every start of the program. The text is parsed when the
// program is built, so a shipped file that is no TOML breaks the build and not the user's run.
#pragma once

#include <string>
#include <string_view>

#include "base/strict_toml.h"

namespace warmsheet::library {

/// Values with lines and columns; the file's name is left out. For the same program that reads them: no
/// version mark.
std::string pack(const toml::Value& document);

/// The document as `toml::parse` gave it, with `file` in every place.
/// Throws std::logic_error on bytes that `pack` did not make.
toml::Value unpack(std::string_view bytes, const std::string& file);

}  // namespace warmsheet::library
