// SPDX-License-Identifier: MIT
// Drawings of outlines and of cut sheets, in true millimetres.
#pragma once

#include <string>

#include "outline/outline.h"
#include "plan/cutting.h"
#include "report/document.h"

namespace warmsheet::report {

/// The outline with its holes and strap places.
Drawing outline_drawing(const outline::Outline& outline);

/// One used sheet of a layout: sheet edge, margin, placed outlines with their names, and the clean rest.
Drawing sheet_drawing(const plan::Cutting& cutting, double margin_mm, std::size_t sheet);

/// All used sheets below each other: for one SVG or DXF file.
Drawing all_sheets_drawing(const plan::Cutting& cutting, double margin_mm);

/// "wrist copy 1", or the name alone if there is one copy.
std::string piece_label(const nesting::Order& order, const nesting::Placement& placement);

}  // namespace warmsheet::report
