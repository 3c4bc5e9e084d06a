// SPDX-License-Identifier: MIT
#include "heat/bench_notes.h"

#include "fuzz/target.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const library::Library built_in = library::load({});
  fuzz::reads([&] {
    const heat::BenchNotes notes = heat::read_bench_notes(fuzz::text_of(data, size), "a.toml", built_in);
    fuzz::require(!notes.notes.empty(), "bench notes note something");
  });
  return 0;
}
