// SPDX-License-Identifier: MIT
#include <iostream>
#include <string>
#include <vector>

#include "cli/environment.h"
#include "cli/run.h"

int main(int argc, char** argv) {
  warmsheet::cli::keep_standard_streams_apart();
  const std::vector<std::string> words(argv + (argc > 0 ? 1 : 0), argv + argc);
  return warmsheet::cli::run(words, warmsheet::cli::read_environment(), std::cout, std::cerr);
}
