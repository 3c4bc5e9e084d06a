// SPDX-License-Identifier: MIT
// The cautions of a result, computed from its figures. Each has a stable id; every document carries them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/caution.h"
#include "choice/choose.h"
#include "heat/situation.h"
#include "heat/timing.h"
#include "library/library.h"
#include "outline/outline.h"

namespace warmsheet::plan {

/// What always holds when hot sheet meets skin, with the figures of this timing, worst first.
std::vector<Caution> heat_cautions(const heat::Situation& situation, const heat::Timing& timing,
                                   const library::BenchTimes& bench_times);

/// The most careful of the skin kind named (may be empty) and those that the precautions ask for: a lower
/// limit is more careful. Empty if neither names one.
std::string careful_skin(const library::Library& library, std::string named,
                         const std::vector<std::string>& precautions);

/// The liner named (may be empty), else the usual one if a precaution asks for a liner. Empty if neither
/// does.
std::string careful_liner(std::string named, const std::vector<std::string>& precautions);

/// A planned skin kind that is less careful than a precaution asks for; empty if there is none.
std::vector<Caution> skin_cautions(const library::Library& library, const library::SkinKind& planned,
                                   const std::vector<std::string>& precautions);

/// That a piece usually takes longer to shape than this sheet allows; empty if it does not, or if there is no
/// window at all, which is a caution of its own.
std::vector<Caution> haste_cautions(const Finding& window, const Figure& form_time);

/// Whoever says how long a sheet may be shaped on a person says this too.
Caution test_on_yourself(bool lined);

/// What a fit to strips on a rack does not tell about skin.
std::vector<Caution> calibration_cautions();

/// One caution for each precaution of the job.
std::vector<Caution> precaution_cautions(const std::vector<std::string>& precautions);

/// What it says, with the mark of its basis.
Phrase stated(const library::Statement& statement);

/// That the prescription overrides the condition's starting figures, and the condition's own cautions.
std::vector<Caution> condition_cautions(const library::Condition& condition);

/// A job may name another design than the condition is usually made to.
std::vector<Caution> design_cautions(const library::Library& library, const library::Condition& condition,
                                     const outline::Outline& outline);

/// Of the bath alone, where nothing was timed: that it scalds, and that it is not this sheet's usual one.
std::vector<Caution> bath_cautions(const heat::Situation& situation);

/// That the stiffness of the sheet taken is a comparison, and how surely it takes the push; that it does not
/// meet what the condition asks, if it was left out; that the push is not a child's;
/// which end of a traced pattern is taken to be up.
std::vector<Caution> choice_cautions(const choice::Choice& choice, const library::StockItem& taken,
                                     const std::vector<std::string>& precautions);

/// For whoever takes the measures of an injured or repaired hand.
inline constexpr const char* measuring_moves_nothing =
    "A measure that would move an injured or repaired joint is taken at the other hand.";
std::vector<Caution> measuring_cautions();

/// Scissors, knife, heat gun.
std::vector<Caution> cutting_cautions();

/// The rules that an outline breaks, measures that nobody has and measures that were not taken; empty if
/// there are none.
std::vector<Caution> outline_cautions(const outline::Outline& outline);

/// "This is an estimate", the prescription, local codes: with every document.
std::vector<Caution> standing_cautions();

}  // namespace warmsheet::plan
