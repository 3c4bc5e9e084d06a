// SPDX-License-Identifier: MIT
// What a TOML file is, told by the keys at its top.
#pragma once

#include <optional>

#include "base/strict_toml.h"

namespace warmsheet::cli {

enum class FileKind { caseload, bench_notes, job, measures, outline };

/// Nothing if no key tells: a file of a library, or of nothing here.
std::optional<FileKind> kind_of(const toml::Value& document);

/// Whether it has a key that no file of a library has.
bool is_of_no_library(const toml::Value& document);

}  // namespace warmsheet::cli
