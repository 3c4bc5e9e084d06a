// SPDX-License-Identifier: MIT
// A search turns pieces over as it likes. Seen in a mirror a layout on a rectangle is as good, so each sheet
// is taken the way round in which fewer pieces lie face down: fewer patterns to turn over before tracing.
#pragma once

#include "nesting/nest.h"

namespace warmsheet::nesting {

/// Mirrors each sheet whose pieces mostly lie face down across its length, within the strip they take: sheets
/// used and lengths stay. Left as they are: sheets that are no rectangle or have spoilt zones, sheets with
/// fixed pieces, and those where a piece would lie at an angle it may not take, or may not be turned over.
void turn_faces_up(const Order& order, Layout& layout);

}  // namespace warmsheet::nesting
