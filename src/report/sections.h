// SPDX-License-Identifier: MIT
// Sections that more than one command shows.
#pragma once

#include <utility>
#include <vector>

#include "heat/situation.h"
#include "heat/timing.h"
#include "outline/outline.h"
#include "plan/blank_cutting.h"
#include "plan/cutting.h"
#include "plan/practice.h"
#include "report/document.h"

namespace warmsheet::report {

/// The bench takes what to act on; who learns the work, or asks for that part alone, gets the whole ground.
enum class Detail { to_act_on, whole };

std::vector<Input> timing_inputs(const heat::Situation& situation);

/// Times, skin, what to measure, practice beside model.
std::vector<Section> timing_sections(const heat::Situation& situation, const heat::Timing& timing,
                                     const std::vector<plan::PracticeComparison>& practice, Detail detail);

/// Extents, holes, straps, and the rules it was checked against; to act on, only those it breaks.
Section outline_section(const outline::Outline& outline, Detail detail);

/// The cut list of each sheet in the order of cutting, its drawing, and what is worth keeping.
std::vector<Section> cut_list_sections(const plan::Cutting& cutting, const Figure& margin);
/// The same with the cutting's figures, for documents of which they are not the results.
std::vector<Section> cutting_sections(const plan::Cutting& cutting, const Figure& margin);
/// Copies without a place; those of one outline for one reason in one line.
Bullets unplaced_list(const nesting::Order& order, const std::vector<nesting::Unplaced>& unplaced);
/// The same for JSON.
RecordArray unplaced_array(const char* name, const nesting::Order& order,
                           const std::vector<nesting::Unplaced>& unplaced);

/// placements, offcuts, used_sheets, unplaced and search for JSON.
std::vector<RecordArray> cutting_arrays(const plan::Cutting& cutting);

/// Straight cuts beside the true-shape cut, and on each sheet every cut as a step.
std::vector<Section> blank_sections(const plan::Cutting& cutting, const plan::BlankCutting& blanks);

/// blanks, knife_cuts, blank_sheets, unplaced_blanks and cut_ways for JSON.
std::vector<RecordArray> blank_arrays(const plan::Cutting& cutting, const plan::BlankCutting& blanks);

/// Adds `more` at the end.
template <class Item>
void move_into(std::vector<Item>& all, std::vector<Item> more) {
  for (Item& item : more) all.push_back(std::move(item));
}

/// The document's own cautions, then those that stand in every one.
std::vector<Caution> with_standing(std::vector<Caution> cautions);

/// "name: figure" lines for results.
Facts facts_of(const std::vector<NamedFinding>& findings);

}  // namespace warmsheet::report
