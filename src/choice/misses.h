// SPDX-License-Identifier: MIT
// What was left out, in the order in which it helps to read it.
#pragma once

#include "choice/choose.h"

namespace warmsheet::choice {

/// The nearest miss first. Where nothing qualifies, items that lack what most of the stock lacks come first,
/// and the choice names that obstacle: a sheet that is nearly thick enough is no near miss in a bath that
/// softens none.
void put_misses_in_order(Choice& choice);

}  // namespace warmsheet::choice
