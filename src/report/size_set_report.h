// SPDX-License-Identifier: MIT
// Paper patterns in sizes: what each measures, and whom the set fits.
#pragma once

#include "outline/size_set.h"
#include "report/document.h"

namespace warmsheet::report {

Document size_set_report(const library::Design& design, const outline::SizeSet& set, LibraryStamp stamp);

/// All sizes beside each other at true size.
Drawing size_set_drawing(const outline::SizeSet& set);

}  // namespace warmsheet::report
