// SPDX-License-Identifier: MIT
// What `choose` says: the condition's usual starting figures, the ranking with reasons, what would change it,
// what was left out, and stock side by side.
#pragma once

#include <string>
#include <vector>

#include "choice/choose.h"
#include "heat/situation.h"
#include "library/library.h"
#include "report/document.h"

namespace warmsheet::report {

/// `person` is the bath and the person that the windows were worked out for.
/// `compare` holds stock keys to put side by side; each must be in the ranking or among what was left out.
/// The library must outlive the document. Throws a Failure (usage) for a key that is neither.
Document choose_report(const library::Library& library, const choice::Choice& choice,
                       const heat::Request& person, const std::vector<std::string>& compare,
                       LibraryStamp stamp);

/// For a plan: how the sheet that was taken stands among all stock, and the reasons for and against it.
Section taken_section(const choice::Choice& choice, const library::StockItem& taken);

/// For a plan: what the condition usually starts with.
Section starting_section(const library::Condition& condition);

/// Every stock item that qualifies, with its figures.
RecordArray ranking_array(const choice::Choice& choice);

/// The conditions found, a line each.
Document conditions_report(const std::vector<const library::Condition*>& found, std::string_view words,
                           LibraryStamp stamp);

}  // namespace warmsheet::report
