// SPDX-License-Identifier: MIT
#include "fuzz/outline.h"
#include "outline/scan.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  return fuzz::reads_picture(outline::read_jpeg, "a.jpg", data, size);
}
