// SPDX-License-Identifier: MIT
#include "fuzz/outline.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  for (const bool stated : {false, true}) {
    outline::ReadOptions options;
    if (stated) options.user_unit = Length{1e-3};
    fuzz::reads([&] { fuzz::check_outline(outline::read_csv(fuzz::text_of(data, size), "a.csv", options)); });
  }
  return 0;
}
