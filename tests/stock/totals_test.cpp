// SPDX-License-Identifier: MIT
// What is added up over items and compared between ways: areas and months, held against closed forms.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string>

#include "stock/answers.h"
#include "stock/law.h"
#include "support.h"
#include "support/near.h"

using namespace warmsheet;
using namespace warmsheet::stock;
using testing::near_abs;
using testing::near_rel;

namespace {

const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

Caseload read(const std::string& text) {
  return parse_caseload(text, "c.toml", shipped());
}

/// Two items whose orthoses take a sheet each.
Caseload two_items(const std::string& mean, const std::string& above) {
  std::string text = above + testing::one_sheet_each(mean, "lead_time = \"8 d\"\n");
  return read(text + R"([[item]]
stock = "elastic-clear/2.4-solid"
on_hand = 3
[[kind]]
id = "large thin"
area = "1150 cm2"
shaped_like = "volar-wrist"
stock = "elastic-clear/2.4-solid"
per_month = ")" +
              mean + "\"\n");
}

StudyOptions only_use(int months) {
  StudyOptions options;
  options.months = months;
  options.sizes = options.projections = false;
  return options;
}

Answers answers(const Caseload& caseload, int months) {
  return answers_of(caseload, shipped(), study(caseload, shipped(), only_use(months)), nullptr, nullptr);
}

Comparison compared(const Caseload& first, const Caseload& second, int months) {
  return compare(first, second, "first", "second", shipped(), study(first, shipped(), only_use(months)),
                 study(second, shipped(), only_use(months)));
}

}  // namespace

TEST_CASE("a total holds nine of ten months although a season makes all items busy at once") {
  // Two kinds of 40 a month: a month of the year is Poisson(80 x its season), so all months are the mixture
  // of twelve Poisson laws, exactly. Items added up as if they were
  // independent give a much narrower range.
  const std::array<double, 12> season{1.4, 1.4, 1.3, 1, 1, .8, .5, .4, .8, 1, 1.2, 1.2};
  const Answers made =
      answers(two_items("40", "season = [1.4, 1.4, 1.3, 1, 1, 0.8, 0.5, 0.4, 0.8, 1, 1.2, 1.2]\n"), 4800);
  Law months = Law::exactly(0);
  for (std::size_t m = 0; m < season.size(); ++m)
    months = mixed(months, Law::poisson(80.0 * season[m]), 1.0 / static_cast<double>(m + 1));
  for (const Finding* total : {&made.sheets_per_month, &made.orthoses_per_month}) {
    CHECK(near_abs(total->figure().si(), 80.0, 0.6));
    // 4800 months: a share of 5 % is known to 0.3 %, about one sheet.
    CHECK(near_abs(total->figure().low_si(), months.quantile(.05), 2.0));
    CHECK(near_abs(total->figure().high_si(), months.quantile(.95), 2.0));
  }
}

TEST_CASE("totals of a single item are the item's own") {
  const std::string text = "season = [2, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1]\n" +
                           testing::one_sheet_each("6", "lead_time = \"8 d\"\norder_cost = \"5 cr\"\n");
  const Answers made = answers(read(text), 960);
  const ItemAnswer& item = made.items.front();
  const auto same = [](const Finding& a, const Finding& b) {
    return near_rel(a.figure().si(), b.figure().si(), 1e-12) &&
           near_rel(a.figure().low_si(), b.figure().low_si(), 1e-12) &&
           near_rel(a.figure().high_si(), b.figure().high_si(), 1e-12);
  };
  CHECK(same(made.sheets_per_month, item.sheets_per_month));
  CHECK(same(made.orthoses_per_month, item.orthoses_per_month));
  CHECK(same(made.cost_per_month, item.cost_per_month));
  CHECK(same(made.waste, item.waste));
}

TEST_CASE("the same orthoses and the same practice: what is used less is what is wasted less") {
  const Caseload caseload =
      read_caseload(std::string(WARMSHEET_SOURCE_DIR) + "/examples/clinic/caseload.toml", shipped());
  REQUIRE(caseload.items.front().practice.si() > 0.0);
  const Caseload large = with_variant(caseload, find_variant(caseload, "large-sheets"), shipped());
  const Comparison comparison = compared(caseload, large, 480);
  const Figure& used = comparison.lines[0].difference;
  const Figure& wasted = comparison.lines[1].difference;
  CHECK(used.si() < 0.0);  // common practice, no source: larger sheets leave less at their edges
  CHECK(near_rel(used.si(), wasted.si(), 1e-9));
  CHECK(near_rel(used.low_si(), wasted.low_si(), 1e-9));
}

TEST_CASE("practice is used, not wasted, and takes as many of the larger sheets as hold its area") {
  const auto with_practice = [](const char* stock, const char* sheets) {
    std::string text = testing::one_sheet_each(
        "6", "lead_time = \"8 d\"\n",
        std::string("sizes = [\"elastic-clear/3.2-solid-large\"]\npractice = \"") + sheets + "\"\n");
    const Caseload caseload = read(text);
    Variant variant = standing_variants().front();
    variant.sizes = {{"elastic-clear/3.2-solid", stock}};
    return with_variant(caseload, variant, shipped());
  };
  const Caseload none = read(testing::one_sheet_each("6", "lead_time = \"8 d\"\n"));
  const Caseload ten = read(testing::one_sheet_each("6", "lead_time = \"8 d\"\n", "practice = \"10\"\n"));
  const Comparison comparison = compared(none, ten, 4800);
  CHECK(near_rel(comparison.lines[0].difference.si(), 10 * 0.6 * 0.45, 0.03));  // of 60 x 45 cm each
  CHECK(near_abs(comparison.lines[1].difference.si(), 0.0, 1e-9));
  // Sheets of practice alone, by area: 60 x 45 cm against the large size.
  const auto practised = [&](const char* stock, const char* sheets) {
    const ItemStudy item = study(with_practice(stock, sheets), shipped(), only_use(4800)).items.front();
    return item.sheets.mean;
  };
  const char* large = "elastic-clear/3.2-solid-large";
  const library::StockItem& sheet = shipped().stock_item(large);
  const double more = practised(large, "10") - practised(large, "0");
  CHECK(near_rel(more * sheet.length.si() * sheet.width.si(), 10 * 0.6 * 0.45, 0.03));
}

TEST_CASE("a pooled item takes the practice with it, as large an area") {
  std::string text = testing::one_sheet_each("6", "lead_time = \"8 d\"\n", "practice = \"3\"\n");
  text += "[[item]]\nstock = \"draping-white/3.2-solid\"\non_hand = 1\npractice = \"1\"\n";
  Variant variant = standing_variants().front();
  variant.pooled = {{"elastic-clear/3.2-solid", "draping-white/3.2-solid"}};
  const Caseload pooled = with_variant(read(text), variant, shipped());
  REQUIRE(pooled.items.size() == 1);
  const auto area = [](const char* key) {
    return shipped().stock_item(key).length.si() * shipped().stock_item(key).width.si();
  };
  CHECK(near_rel(pooled.items.front().practice.si(),
                 1.0 + 3.0 * area("elastic-clear/3.2-solid") / area("draping-white/3.2-solid"), 1e-12));
}
