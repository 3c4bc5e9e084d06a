// SPDX-License-Identifier: MIT
// An outline file that another file names: outline = "FILE", or with what the file leaves open
// outline = { file = "FILE", unit = "1/150 in" }.
#pragma once

#include <optional>
#include <string>

#include "base/strict_toml.h"
#include "outline/outline.h"

namespace warmsheet::outline {

struct NamedFile {
  std::string file;  ///< as written there
  ReadOptions options;
};

/// Nothing if the key is absent or cannot be read; that is a problem of the reader. Besides `file` the table
/// takes unit, tolerance, layer, photo and traced, as the command line does.
std::optional<NamedFile> named_file(toml::Reader& reader, std::string_view key);

}  // namespace warmsheet::outline
