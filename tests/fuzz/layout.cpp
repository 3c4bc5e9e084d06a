// SPDX-License-Identifier: MIT
#include <cmath>

#include "fuzz/target.h"
#include "report/read_layout.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::reads([&] {
    const plan::SavedLayout layout = report::parse_layout(fuzz::text_of(data, size), "a.json");
    for (const auto& placement : layout.placements) {
      fuzz::require(placement.sheet < layout.sheets.size(), "a placement lies on a sheet");
      fuzz::require(placement.copy >= 0, "copies count from 0");
      fuzz::require(std::isfinite(placement.x_mm + placement.y_mm + placement.angle_deg),
                    "places are finite");
    }
  });
  return 0;
}
