// SPDX-License-Identifier: MIT
#include "base/currency.h"

#include <doctest/doctest.h>

using namespace warmsheet;

namespace {

Figure price(double value, const char* currency) {
  return Figure::entered("price", Range::exactly(value), *find_unit(Dimension::money, currency));
}

}  // namespace

TEST_CASE("one currency needs no word, several are named once each with what to do") {
  CHECK(mixed_currencies({}).empty());
  CHECK(mixed_currencies({price(3, "cr"), price(4, "cr")}).empty());
  CHECK(mixed_currencies({price(3, "cr"), price(4, "EUR"), price(5, "cr")}) ==
        "prices are in EUR and cr; state all in one currency in your own library folder");
  CHECK(currencies_of({price(3, "cr"), price(3450, "JPY"), price(4, "EUR"), price(5, "EUR")}) ==
        std::vector<std::string>{"EUR", "JPY", "cr"});
  CHECK(mixed_currencies({price(1, "USD"), price(3450, "JPY"), price(4, "EUR")})
            .starts_with("prices are in EUR, JPY and USD;"));
}
