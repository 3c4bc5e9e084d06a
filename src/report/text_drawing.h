// SPDX-License-Identifier: MIT
// A drawing in characters: small enough for a terminal, good enough to see what lies where.
#pragma once

#include <string>
#include <vector>

#include "report/document.h"
#include "report/writers.h"

namespace warmsheet::report {

/// Lines of at most `width` columns. Notes stand where they fit without hiding an edge, else their short form
/// does, else they are left out; dimensions are left out. \pre `signs` is not `none`
std::vector<std::string> text_drawing(const Drawing& drawing, std::size_t width, TextPictures signs);

}  // namespace warmsheet::report
