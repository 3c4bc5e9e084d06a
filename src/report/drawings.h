// SPDX-License-Identifier: MIT
// Drawings of outlines and of cut sheets, in true millimetres.
#pragma once

#include <string>

#include "outline/outline.h"
#include "plan/blank_cutting.h"
#include "plan/cutting.h"
#include "report/document.h"

namespace warmsheet::report {

/// Lays a drawing, moved, beside what is there; the extent grows to hold it.
void append_at(Drawing& all, const Drawing& one, const outline::Point& move);

/// How a line that is worked along is drawn.
Stroke stroke_of(library::LineKind kind);

/// The outline with its holes, the lines to work along and its strap places.
Drawing outline_drawing(const outline::Outline& outline);

/// One used sheet of a layout: sheet edge, margin, spoilt zones, placed outlines numbered in the order of
/// cutting, the clean rest, and the distances from the sheet's corner in millimetres.
Drawing sheet_drawing(const plan::Cutting& cutting, double margin_mm, std::size_t sheet);
/// One sheet cut into blanks: the knife cuts with their numbers and the outlines in their blanks.
Drawing blank_sheet_drawing(const plan::Cutting& cutting, const plan::BlankCutting& blanks,
                            std::size_t sheet);

/// All sheets below each other: for one SVG or DXF file.
Drawing all_sheets_drawing(const plan::Cutting& cutting, double margin_mm);
Drawing all_blanks_drawing(const plan::Cutting& cutting, const plan::BlankCutting& blanks);

/// "Sheet 2: name", or that it is a kept offcut: over its drawing and its cut list. `sheet` counts from 0.
std::string sheet_title(const nesting::Stock& stock, std::size_t sheet);

/// "wrist 1", or the name alone if there is one copy.
std::string piece_label(const nesting::Order& order, std::size_t piece, int copy);

/// "A" for the first blank of a sheet, "B", ... "Z", "A1": what its drawing and its steps call it.
std::string blank_mark(std::size_t nth);

}  // namespace warmsheet::report
