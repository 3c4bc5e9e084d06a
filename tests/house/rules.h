// SPDX-License-Identifier: MIT
// The rules of the house, each as a function from files to breaches "file:line: rule". DEVELOPERS.md gives
// their reasons.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace warmsheet::house {

struct File {
  std::string path;  // from the top of the repository, "src/base/text.h"
  std::string text;
};

using Files = std::vector<File>;
using Breaches = std::vector<std::string>;

/// All C++ files below src/ and tests/, in order of their paths.
Files read_tree(const std::filesystem::path& top);

Breaches arrows(const Files& files);
/// `cmake` are the CMakeLists.txt of the rooms.
Breaches arrows_in_cmake(const Files& cmake);
Breaches third_party(const Files& files);
/// Below cli/: no printing, exiting, clock, environment, arguments, locale.
Breaches forbidden_calls(const Files& files);
/// Words that no file may hold: a comparison that means something else, ranges that clang 14 cannot read,
/// notes to self.
Breaches forbidden_words(const Files& files);
/// Lengths and angles converted by hand, or a conversion defined twice: base/dimension.h is their home.
Breaches units_by_hand(const Files& files);
Breaches first_line(const Files& files);
Breaches headers(const Files& files);
Breaches lengths(const Files& files);
/// Every source stands in its room's list, so that no dead file lies about.
Breaches listed(const Files& files, const Files& cmake);
/// Names at the top of the repository.
Breaches top_level(const std::vector<std::string>& names);

}  // namespace warmsheet::house
