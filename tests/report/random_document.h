// SPDX-License-Identifier: MIT
// Documents nobody would think of: every block, awkward words, figures of all kinds and sizes.
#pragma once

#include <cstdint>
#include <random>

#include "report/document.h"

namespace warmsheet::report::sample {

/// The same seed gives the same document.
Document random_document(std::uint32_t seed);

/// Any unit, any size within its physical bounds, with or without a range, stated or derived.
Figure random_figure(std::mt19937& random);

}  // namespace warmsheet::report::sample
