// SPDX-License-Identifier: MIT
#include "fuzz/outline.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::reads([&] { fuzz::check_outline(outline::read_toml(fuzz::text_of(data, size), "a.toml")); });
  return 0;
}
