// SPDX-License-Identifier: MIT
#include "fuzz/outline.h"
#include "outline/scan.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  outline::ReadOptions options;
  options.user_unit =
      Length{0.0254 / 10.0};  // ten pixels to an inch make small images patterns of a real size
  fuzz::reads([&] { fuzz::check_outline(outline::read_png(fuzz::text_of(data, size), "a.png", options)); });
  options.paper = outline::a4_paper;
  fuzz::reads([&] { fuzz::check_outline(outline::read_png(fuzz::text_of(data, size), "a.png", options)); });
  return 0;
}
