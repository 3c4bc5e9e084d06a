// SPDX-License-Identifier: MIT
// Which files a library folder may hold, and reading them.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "library/library.h"

namespace warmsheet::library {

/// Files of their own ("skin" is skin.toml); their tables are laid over each other key by key.
inline constexpr std::array<std::string_view, 9> single_files{
    "bench_times", "crystallisation", "cutting",     "fixings", "measures", "perforations",
    "skin",        "sources",         "surroundings"};
/// Folders with one entry a file, known by the `id` in it.
inline constexpr std::array<std::string_view, 3> entry_folders{"conditions", "designs", "sheets"};

struct LayerFile {
  std::string inside;  ///< the path in its layer: "sheets/x.toml"
  std::string shown;   ///< the name that messages use: "materials/sheets/x.toml", "/home/.../sheets/x.toml"
  std::string text;
};

/// The .toml files of a folder, sorted. A .toml file that no library has is a problem, with the nearest known
/// name; other files and hidden ones are left alone. `all_read` becomes false if a file cannot be read.
/// Throws a Failure (usage) if the folder does not exist or cannot be listed.
std::vector<LayerFile> read_layer(const LayerFolder& folder, Problems& problems, bool& all_read);

}  // namespace warmsheet::library
