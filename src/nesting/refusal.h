// SPDX-License-Identifier: MIT
// Orders that make no sense are refused whole, before any geometry.
#pragma once

#include "nesting/nest.h"

namespace warmsheet::nesting {

/// Throws a Failure (data) with all that makes no sense in the order.
void refuse_nonsense(const Order& order);
/// The same for the pieces and gaps alone.
void refuse_strange_pieces(const Order& order);

}  // namespace warmsheet::nesting
