// SPDX-License-Identifier: MIT
#include "fuzz/target.h"
#include "library/library.h"
#include "library/read_records.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const library::Library built_in = library::load({});
  fuzz::reads([&] {
    const toml::Value document = toml::parse(fuzz::text_of(data, size), "a.toml");
    Problems problems;
    const library::Sheet sheet = library::read_sheet(document, "a", built_in, problems);
    problems.throw_if_any();
    fuzz::require(sheet.thermal.melting_start.si() < sheet.thermal.melting_end.si(), "a sheet melts upwards");
    fuzz::require(sheet.thermal.density.low_si() > 0.0, "a sheet has mass");
  });
  return 0;
}
