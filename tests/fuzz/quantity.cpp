// SPDX-License-Identifier: MIT
#include "base/quantity.h"

#include <cmath>

#include "fuzz/target.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = fuzz::text_of(data, size);
  // All kinds share one parser; what differs are units, several terms, and ratios that need no unit.
  for (const Dimension dimension : {Dimension::length, Dimension::duration, Dimension::temperature,
                                    Dimension::ratio, all_dimensions()[size % all_dimensions().size()]}) {
    fuzz::reads([&] {
      const Written seen = parse_quantity(text, dimension);
      const PhysicalBounds bounds = physical_bounds(dimension);
      fuzz::require(std::isfinite(seen.si), "a quantity is finite");
      fuzz::require(seen.si >= bounds.low - rounding_slack(bounds.low) &&
                        seen.si <= bounds.high + rounding_slack(bounds.high),
                    "a quantity is possible");
      fuzz::require(seen.unit->dimension == dimension, "the unit is of the kind that was asked for");
      const std::string written = write_exact(seen.si, *seen.unit);
      fuzz::require(parse_quantity(written, dimension).si == seen.si, "what is written reads back");
    });
  }
  fuzz::reads([&] {
    const WrittenSize seen = parse_size(text);
    fuzz::require(seen.width.si > 0.0 && seen.height.si > 0.0, "a size has an area");
  });
  return 0;
}
