// SPDX-License-Identifier: MIT
#include "base/currency.h"

#include <fmt/format.h>

#include <set>

namespace warmsheet {

std::vector<std::string> currencies_of(const std::vector<Figure>& prices) {
  std::set<std::string> ids;
  for (const Figure& price : prices) ids.emplace(price.unit().id);
  return {ids.begin(), ids.end()};
}

std::string mixed_currencies(const std::vector<Figure>& prices) {
  std::vector<std::string> ids = currencies_of(prices);
  if (ids.size() < 2) return {};
  const std::string last = ids.back();
  ids.pop_back();
  return fmt::format("prices are in {} and {}; state all in one currency in your own library folder",
                     fmt::join(ids, ", "), last);
}

}  // namespace warmsheet
