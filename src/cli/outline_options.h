// SPDX-License-Identifier: MIT
// Outlines named on the command line: a file, or a design with measures.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/arguments.h"
#include "cli/command.h"
#include "outline/outline.h"

namespace warmsheet::cli {

/// True if the word names a file rather than a design: it has an ending this program reads, a slash, or an
/// ending of any kind and a file is there.
bool is_outline_file(std::string_view word);

/// Options that only a file takes, and those that only a design takes.
const std::vector<std::string_view>& file_options();
const std::vector<std::string_view>& design_options();

/// Refuses options for files that none of these files leaves open.
void refuse_idle_file_options(const Arguments& arguments, const std::vector<std::string>& files);

/// Reads the file, or draws the design with the measures given.
outline::Outline outline_from(std::string_view word, const Arguments& arguments,
                              const library::Library& library);

/// Reads the file as it lies, whatever side was asked for: no part of a body lies on an offcut.
outline::Outline shape_from(std::string_view file, const Arguments& arguments);

/// Refuses what was typed with --measure and decides nothing of any of them.
void refuse_idle_measures(const Arguments& arguments, const std::vector<const outline::Outline*>& outlines);

/// A TOML file with a [measures] table. Throws a Failure (data).
outline::Measures read_measures_file(const std::string& path);

/// The measures typed with --measure over those of --measures.
outline::Measures measures_from(const Arguments& arguments);

/// --side: right unless left was asked for.
outline::Side side_from(const Arguments& arguments);

/// --measure, --measures, --side; --unit, --tolerance, --layer, --photo, --traced.
std::vector<OptionGroup> outline_source_options();

}  // namespace warmsheet::cli
