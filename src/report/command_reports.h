// SPDX-License-Identifier: MIT
// From the result of each command to its document. What is said lives here; how it looks lives in the
// writers.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "heat/calibration.h"
#include "heat/situation.h"
#include "heat/timing.h"
#include "library/library.h"
#include "outline/outline.h"
#include "plan/blank_cutting.h"
#include "plan/cutting.h"
#include "plan/plan.h"
#include "report/document.h"

namespace warmsheet::report {

/// Every source, as a bibliography gives it.
Document sources_report(const library::Library& library, LibraryStamp stamp);
/// All sheets and their stock, a line each.
Document sheets_report(const library::Library& library, LibraryStamp stamp);

/// One sheet: every value with its basis and source.
Document sheet_report(const library::Library& library, const library::Sheet& sheet, LibraryStamp stamp);

Document outline_report(const outline::Outline& outline, LibraryStamp stamp);
/// Every design, with what it is for and what it is not.
Document designs_report(const library::Library& library, LibraryStamp stamp);
/// What to measure before the design can be drawn, with a figure of each.
Document measures_report(const library::Design& design, const library::Library& library, LibraryStamp stamp);

Document timing_report(const library::Library& library, const heat::Situation& situation,
                       const heat::Timing& timing, LibraryStamp stamp);

/// `written`: the files that now hold the fitted constants; none on a dry run.
Document calibrate_report(const heat::Calibration& calibration, const std::vector<std::string>& written,
                          LibraryStamp stamp);

/// \param blanks the same as straight knife cuts, if it was asked for
Document nest_report(const plan::CutRequest& request, const plan::Cutting& cutting,
                     const std::optional<plan::BlankCutting>& blanks, LibraryStamp stamp);

/// A pattern known only by its area.
Document nest_estimate_report(const Figure& area, int copies, const plan::SheetSize& sheet,
                              const plan::AreaEstimate& estimate, LibraryStamp stamp);

/// `explained` adds the reason of each step, for somebody who learns the work.
Document plan_report(const plan::Plan& plan, bool explained, LibraryStamp stamp);

}  // namespace warmsheet::report
