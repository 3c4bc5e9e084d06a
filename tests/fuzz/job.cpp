// SPDX-License-Identifier: MIT
#include "plan/job.h"

#include "fuzz/target.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const library::Library built_in = library::load({});
  fuzz::reads([&] { plan::parse_job(fuzz::text_of(data, size), "a.toml", built_in); });
  return 0;
}
