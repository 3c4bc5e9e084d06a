// SPDX-License-Identifier: MIT
#include "outline/expression.h"

#include <cmath>

#include "fuzz/target.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const outline::Names names{{"wrist", outline::Amount::length_mm(160.0)},
                                    {"share", outline::Amount::ratio(0.5)}};
  fuzz::reads([&] {
    const auto expression = outline::Expression::parse(fuzz::text_of(data, size), {"a.toml", 1, 1}, "x");
    const outline::Amount amount = expression.evaluate(names);
    fuzz::require(std::isfinite(amount.value), "a measure is finite");
  });
  return 0;
}
