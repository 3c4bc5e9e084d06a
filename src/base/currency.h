// SPDX-License-Identifier: MIT
// Money is never converted, so prices in several currencies can be shown but not compared or added up.
#pragma once

#include <string>
#include <vector>

#include "base/figure.h"

namespace warmsheet {

/// The currencies of these prices, each once, in alphabetical order.
std::vector<std::string> currencies_of(const std::vector<Figure>& prices);

/// "prices are in EUR and cr; state all in one currency in your own library folder": why there is no figure
/// over all of them; empty if there is one currency at most.
std::string mixed_currencies(const std::vector<Figure>& prices);

}  // namespace warmsheet
