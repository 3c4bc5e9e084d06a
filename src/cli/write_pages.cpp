// SPDX-License-Identifier: MIT
// A small program of the build: writes the manual pages and the completion scripts into the folder it is
// given, for installing and packaging.
#include <cstdio>
#include <exception>
#include <filesystem>

#include "base/file.h"
#include "cli/completion.h"
#include "cli/environment.h"
#include "cli/manual.h"

int main(int argc, char** argv) {
  using namespace warmsheet;
  try {
    const std::filesystem::path folder(argc > 1 ? argv[1] : ".");
    for (const cli::ManualPage& page : cli::manual_pages()) write_file(folder / page.file, page.text);
    for (const std::string& shell : cli::completion_shells())
      write_file(folder / ("warmsheet." + shell), cli::completion_text({shell}, cli::Environment{}));
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return 1;
  }
  return 0;
}
