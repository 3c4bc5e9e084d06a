// SPDX-License-Identifier: MIT
// Manual pages from the command table: warmsheet(1) and one page a command, as man(7) source.
#pragma once

#include <string>
#include <vector>

namespace warmsheet::cli {

struct ManualPage {
  std::string file;  ///< "warmsheet-plan.1"
  std::string text;
};

std::vector<ManualPage> manual_pages();

}  // namespace warmsheet::cli
