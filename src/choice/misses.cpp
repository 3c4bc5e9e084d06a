// SPDX-License-Identifier: MIT
#include "choice/misses.h"

#include <algorithm>
#include <map>

namespace warmsheet::choice {
namespace {

using Counts = std::map<std::string, std::size_t>;

Counts items_by_obstacle(const std::vector<ExcludedItem>& excluded) {
  Counts counts;
  for (const ExcludedItem& item : excluded)
    for (const std::string& obstacle : item.obstacles) ++counts[obstacle];
  return counts;
}

/// With how many items it shares the most common of its obstacles.
std::size_t company(const ExcludedItem& item, const Counts& counts) {
  std::size_t most = 0;
  for (const std::string& obstacle : item.obstacles) most = std::max(most, counts.at(obstacle));
  return most;
}

}  // namespace

void put_misses_in_order(Choice& choice) {
  std::stable_sort(choice.excluded.begin(), choice.excluded.end(),
                   [](const ExcludedItem& a, const ExcludedItem& b) { return a.miss < b.miss; });
  if (!choice.ranking.empty() || choice.excluded.empty()) return;
  const Counts counts = items_by_obstacle(choice.excluded);
  std::stable_sort(
      choice.excluded.begin(), choice.excluded.end(),
      [&](const ExcludedItem& a, const ExcludedItem& b) { return company(a, counts) > company(b, counts); });
  choice.obstacle = std::max_element(counts.begin(), counts.end(), [](const auto& a, const auto& b) {
                      return a.second < b.second;
                    })->first;
}

}  // namespace warmsheet::choice
