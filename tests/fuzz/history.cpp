// SPDX-License-Identifier: MIT
#include "stock/history.h"

#include "fuzz/target.h"

using namespace warmsheet;

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text = fuzz::text_of(data, size);
  for (const std::string& word : stock::dialect_words()) {
    fuzz::reads([&] {
      const stock::History history = stock::read_history(text, "a.csv", stock::dialect_of(word));
      fuzz::require(!history.months.empty(), "a history has months");
      for (const auto& [kind, counts] : history.counts) {
        fuzz::require(counts.size() == history.months.size(), "every kind has a count for every month");
        for (const int count : counts) fuzz::require(count >= 0, "counts are not negative");
      }
    });
  }
  return 0;
}
