// SPDX-License-Identifier: MIT
// Use by month, the shelf over the coming year, waste by sheet size.
#pragma once

#include <vector>

#include "report/document.h"
#include "stock/answers.h"

namespace warmsheet::report {

std::vector<Plot> use_plots(const stock::Answers& answers);
std::vector<Plot> year_plots(const stock::Answers& answers);
std::vector<Plot> size_plots(const stock::Answers& answers);

}  // namespace warmsheet::report
