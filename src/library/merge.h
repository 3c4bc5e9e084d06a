// SPDX-License-Identifier: MIT
// From files to one tree: how library folders are laid over each other before anything is read strictly.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/strict_toml.h"
#include "library/library.h"

namespace warmsheet::library {

/// One table: a key for every single file ("skin", "sources"), and for every folder ("sheets", "designs",
/// "conditions") a table of its entries by id.
struct Merged {
  toml::Value tree;
  std::vector<Layer> layers;
  bool all_parsed = true;  ///< false: some file was left out, so what refers to it cannot be judged
};

/// The built-in files with the folders laid over them in order. Slips in single files go to `problems`; a
/// folder that does not exist throws a Failure (usage).
Merged merge(const std::vector<LayerFolder>& folders, Problems& problems);

/// The tree without its places: keys sorted, 2 and 2.0 alike. Two libraries with the same content have the
/// same text.
std::string canonical_text(const toml::Value& tree);

/// FNV-1a, 64 bits, as 16 hexadecimal digits (Fowler, Noll, Vo; offset basis and prime as in RFC 9923).
std::string fnv1a_64(std::string_view bytes);

}  // namespace warmsheet::library
