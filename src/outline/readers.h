// SPDX-License-Identifier: MIT
// What the readers of outline files share.
#pragma once

#include <string>
#include <string_view>

#include "outline/outline.h"

namespace warmsheet::outline {

/// If a drawing has a layer, group or shape of this name, only that is read (so a pattern may carry notes and
/// rulers).
inline constexpr std::string_view cut_layer = "cut";

/// What to write, where the reader of a message can write it: "--unit \"1/150 in\"", or
/// "outline = { file = \"...\", unit = \"1/150 in\" }".
std::string setting(const ReadOptions& options, std::string_view name, std::string_view value);

/// Throws a Failure (usage) unless the tolerance and the unit are lengths a drawing can have.
void check_options(const ReadOptions& options);

/// The outline of a shape that was read from a file, named after it. `tolerance` is that of its curves.
Outline traced(Polygon shape, const std::string& file, Length tolerance);

}  // namespace warmsheet::outline
