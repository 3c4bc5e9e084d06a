// SPDX-License-Identifier: MIT
// Sections that more than one command shows.
#pragma once

#include <vector>

#include "heat/situation.h"
#include "heat/timing.h"
#include "outline/outline.h"
#include "plan/cutting.h"
#include "plan/practice.h"
#include "report/document.h"

namespace warmsheet::report {

std::vector<Input> timing_inputs(const heat::Situation& situation);

/// Times, skin, what to measure, practice beside model.
std::vector<Section> timing_sections(const heat::Situation& situation, const heat::Timing& timing,
                                     const std::vector<plan::PracticeComparison>& practice);

/// Extents, holes, straps, and the rules it was checked against.
Section outline_section(const outline::Outline& outline);

/// The cut list of each sheet, its drawing, and what is worth keeping.
std::vector<Section> cutting_sections(const plan::Cutting& cutting, const Figure& margin);

/// placements and offcuts for JSON.
std::vector<RecordArray> cutting_arrays(const plan::Cutting& cutting);

/// A contract name as words: "half_soft" is "half soft".
std::string words_of(std::string name);

/// "name: figure" lines for results.
Facts facts_of(const std::vector<NamedFinding>& findings);

}  // namespace warmsheet::report
