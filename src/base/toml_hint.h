// SPDX-License-Identifier: MIT
// What to tell somebody whose file is not TOML. The library says what its grammar wanted; people want to know
// what to type instead, and the commonest slip by far is a quantity without quotes.
#pragma once

#include <string>
#include <string_view>

namespace warmsheet::toml {

/// For the line on which reading stopped and what the library said about it.
std::string syntax_hint(std::string_view line, std::string_view description);

}  // namespace warmsheet::toml
