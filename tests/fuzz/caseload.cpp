// SPDX-License-Identifier: MIT
#include "stock/caseload.h"

#include "fuzz/target.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const library::Library built_in = library::load({});
  fuzz::reads([&] { stock::parse_caseload(fuzz::text_of(data, size), "a.toml", built_in); });
  return 0;
}
