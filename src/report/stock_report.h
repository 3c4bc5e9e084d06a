// SPDX-License-Identifier: MIT
// What the supply lead reads: what to order now and why, what a month takes and costs, and on which figures
// it rests.
#pragma once

#include <string>

#include "report/document.h"
#include "stock/answers.h"
#include "stock/caseload.h"
#include "stock/history.h"

namespace warmsheet::report {

Document stock_report(const stock::Caseload& caseload, const stock::Answers& answers, LibraryStamp stamp);

/// Two ways of doing it with the same orthoses.
Document stock_comparison_report(const stock::Caseload& caseload, const stock::Comparison& comparison,
                                 LibraryStamp stamp);

/// What to order now, as a table for a spreadsheet: one line for each thing, prices with their basis.
std::string order_list(const stock::Answers& answers, stock::Dialect dialect);

}  // namespace warmsheet::report
