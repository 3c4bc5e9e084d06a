// SPDX-License-Identifier: MIT
// What `choose` says: the condition's usual starting figures, the ranking with reasons, what would change it,
// what was left out, and stock side by side.
#pragma once

#include <string>
#include <vector>

#include "choice/choose.h"
#include "library/library.h"
#include "report/document.h"

namespace warmsheet::report {

/// `compare` holds stock keys to put side by side; each must be in the ranking or among what was left out.
/// The library must outlive the document. Throws a Failure (usage) for a key that is neither.
Document choose_report(const library::Library& library, const choice::Choice& choice,
                       const std::vector<std::string>& compare, LibraryStamp stamp);

/// The conditions found, a line each.
Document conditions_report(const std::vector<const library::Condition*>& found, std::string_view words,
                           LibraryStamp stamp);

}  // namespace warmsheet::report
