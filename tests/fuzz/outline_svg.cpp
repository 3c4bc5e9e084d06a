// SPDX-License-Identifier: MIT
#include "fuzz/outline.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return fuzz::reads_drawing(outline::read_svg, "a.svg", data, size);
}
