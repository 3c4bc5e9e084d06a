// SPDX-License-Identifier: MIT
#include "stock/caseload.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "stock/evidence.h"
#include "support/near.h"
#include "support/scratch.h"

using namespace warmsheet;
using namespace warmsheet::stock;
using testing::near_rel;

namespace {

const library::Library& shipped() {
  static const library::Library library = library::load({});
  return library;
}

const std::string example = std::string(WARMSHEET_SOURCE_DIR) + "/examples/clinic/caseload.toml";

/// Fields that the example has no use for.
const std::string explained[] = {"discount", "pack", "shortage_cost"};

/// A sound caseload in the fewest lines; tests change one of them.
const std::string sound = R"(label = "test"
[supply]
lead_time = "8 d"
[[item]]
stock = "elastic-clear/3.2-solid"
on_hand = 3
[[kind]]
id = "wrist"
design = "volar-wrist"
stock = "elastic-clear/3.2-solid"
per_month = "4"
)";

std::string changed(const std::string& from, const std::string& to) {
  std::string text = sound;
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

std::string with(const std::string& more) {
  return sound + more;
}

std::vector<std::string> problems_of(const std::string& text) {
  std::vector<std::string> found;
  try {
    static_cast<void>(parse_caseload(text, "c.toml", shipped()));
  } catch (const Failure& failure) {
    CHECK(failure.trouble() == Trouble::data);
    for (const Problem& problem : failure.problems()) found.push_back(problem.text());
  }
  return found;
}

}  // namespace

TEST_CASE("the example is read whole") {
  const Caseload caseload = read_caseload(example, shipped());
  CHECK(caseload.kinds.size() == 8);
  CHECK(caseload.items.size() == 5);
  CHECK(caseload.rolls.size() == 3);
  CHECK(caseload.history.value().months.size() == 24);
  CHECK(caseload.first_month == 9);
  CHECK(caseload.items[0].prices.size() == 3);
  CHECK(caseload.items[0].sizes ==
        std::vector<std::string>{"draping-white/3.2-solid", "draping-white/3.2-solid-large"});
  CHECK(caseload.items[0].on_hand.basis() == Basis::demo);
  CHECK(caseload.items[3].supply.promise == Promise::fill);
  CHECK(near_rel(caseload.items[4].supply.lead_time.high_si(), 35 * 86400.0, 1e-12));
  CHECK(caseload.items[4].supply.order_cost.value() == 12.0);  // from [supply]
  double season = 0.0;
  for (const double factor : caseload.season) season += factor / 12.0;
  CHECK(near_rel(season, 1.0, 1e-12));
}

TEST_CASE(
    "what is typed without a basis is entered, and what is left out is no more than memory or practice") {
  const Caseload caseload = parse_caseload(sound, "c.toml", shipped());
  CHECK(caseload.kinds.front().per_month->basis() == Basis::entered);
  CHECK(caseload.items.front().on_hand.basis() == Basis::entered);
  CHECK(caseload.items.front().supply.service.basis() == Basis::practice);
  CHECK(caseload.cutting.spacing.basis() == Basis::memory);
  CHECK(caseload.items.front().prices.front().price.basis() == Basis::demo);  // the library's
  CHECK(!caseload.items.front().supply.review.has_value());
}

TEST_CASE("a strap sold by the piece comes on no roll") {
  library::Library library = shipped();
  library.fixings.at("strap-50").price_per = "piece";
  CHECK_THROWS_WITH_AS(
      parse_caseload(with("[[roll]]\nfixing = \"strap-50\"\nroll = \"5 m\"\non_hand = \"1 m\"\n"), "c.toml",
                     library),
      doctest::Contains("strap-50 is not sold by the metre"), Failure);
}

TEST_CASE("the cutting that is not stated is the library's") {
  library::Library library = shipped();
  library.cutting.spacing = Figure::entered("spacing", Range::exactly(0.009), units::millimetre());
  library.cutting.margin = Figure::entered("margin", Range::exactly(0.007), units::millimetre());
  library.cutting.keep_side = Figure::entered("keep_side", Range::exactly(0.2), units::millimetre());
  const Cutting own = parse_caseload(sound, "c.toml", library).cutting;
  CHECK(own.spacing.same_node(library.cutting.spacing));
  CHECK(own.margin.same_node(library.cutting.margin));
  CHECK(own.least_side.same_node(library.cutting.keep_side));
  const Cutting stated = parse_caseload(with("[cutting]\nspacing = \"1 mm\"\n"), "c.toml", library).cutting;
  CHECK(stated.spacing.value() == 1.0);
  CHECK(stated.margin.same_node(library.cutting.margin));
}

TEST_CASE("every slip is told with file, line, column and what would be right") {
  struct Row {
    std::string text;
    std::string expected;
  };
  const std::vector<Row> rows{
      {changed("label = \"test\"\n", ""), "label: is missing"},
      {changed("label", "lable"), "did you mean label?"},
      {changed("lead_time = \"8 d\"\n", ""), "the lead time is missing"},
      {changed("\"8 d\"", "\"8\""), "c.toml:3:13: supply.lead_time"},
      {changed("\"8 d\"", "\"8 mm\""), "c.toml:3:13: supply.lead_time"},
      {changed("\"8 d\"", "{ value = 8, low = 9, high = 10, unit = \"d\" }"),
       "low, value and high are not in order"},
      {changed("lead_time = \"8 d\"", "lead_time = \"8 d\"\nservice = \"100 %\""),
       "c.toml:4:11: supply.service: 100 % is outside"},
      {changed("lead_time = \"8 d\"", "lead_time = \"8 d\"\nwatch = \"always\"\nreview = \"7 d\""),
       "watched always and looked at now and then"},
      {changed("lead_time = \"8 d\"", "lead_time = \"8 d\"\npromise = \"luck\""),
       "allowed: cycle service, fill rate"},
      {changed("lead_time = \"8 d\"", "lead_time = \"8 d\"\norder_cost = \"5 EUR\""),
       "has a price in cr in the library, other prices are in EUR"},
      {changed("lead_time = \"8 d\"", "lead_time = \"8 d\"\nstorage = 0"),
       "c.toml:4:11: supply.storage: expected a whole number"},
      {changed("on_hand = 3", "on_hand = -1"), "c.toml:6:11: item.1.on_hand: expected a whole number"},
      {changed("on_hand = 3", "on_hand = 3.5"), "c.toml:6:11: item.1.on_hand: expected a whole number"},
      {changed("on_hand = 3\n", ""), "item.1.on_hand: is missing"},
      {changed("stock = \"elastic-clear/3.2-solid\"\non_hand",
               "stock = \"elastic-clear/3.2-solit\"\non_hand"),
       "c.toml:5:9"},
      {changed("on_hand = 3", "on_hand = 3\nsizes = [\"elastic-clear/2.4-solid\"]"), "is another sheet than"},
      {changed("on_hand = 3", "on_hand = 3\noffcuts = [\"300 x 2 mm\"]"), "is no offcut of a sheet"},
      {changed("on_hand = 3", "on_hand = 3\noffcuts = [\"300 x 220 cm\"]"), "is larger than a whole sheet"},
      {changed("on_hand = 3", "on_hand = 3\noffcuts = [\"300 mm\"]"), "c.toml:7:"},
      {changed("on_hand = 3", "on_hand = 3\n[[item.price]]\nfrom = 5\neach = \"40 cr\""),
       "the first price must start at 1"},
      {changed("on_hand = 3",
               "on_hand = 3\n[[item.price]]\nfrom = 1\neach = \"40 cr\"\n[[item.price]]\nfrom = 1\neach = "
               "\"39 cr\""),
       "price steps must rise, 1 follows 1"},
      {changed("on_hand = 3",
               "on_hand = 3\n[[item.price]]\nfrom = 1\neach = \"40 cr\"\n[[item.price]]\nfrom = 9\neach = "
               "\"41 cr\""),
       "is more than the 40 cr for fewer sheets"},
      {changed("on_hand = 3",
               "on_hand = 3\n[[item.price]]\nfrom = 1\neach = \"40 cr\"\n[[item.price]]\nfrom = 9\neach = "
               "\"39 EUR\""),
       "prices are never converted"},
      {changed("on_hand = 3", "on_hand = 3\n[[item.on_order]]\nsheets = 0\ndue = \"2 d\""),
       "sheets: expected a whole number"},
      {changed("on_hand = 3", "on_hand = 3\n[[item]]\nstock = \"elastic-clear/3.2-solid\"\non_hand = 1"),
       "stands here twice"},
      {changed(
           "on_hand = 3",
           "on_hand = 3\nsizes = [\"elastic-clear/3.2-solid-large\"]\n[[item.price]]\nfrom = 1\neach = \"41 "
           "EUR\""),
       "c.toml:7:1: item.1.sizes: elastic-clear/3.2-solid-large costs 92 cr in the library, other"},
      {changed("on_hand = 3",
               "on_hand = 3\n[item.size_price]\n\"elastic-clear/3.2-solid-large\" = \"80 cr\""),
       "is not among the other sizes of this item"},
      {changed("on_hand = 3",
               "on_hand = 3\nsizes = [\"elastic-clear/3.2-solid-large\"]\n[item.size_price]\n"
               "\"elastic-clear/3.2-solid-large\" = \"80 EUR\""),
       "c.toml:9:35: item.1.size_price.elastic-clear/3.2-solid-large: is in EUR, other prices are in cr"},
      {changed("design = \"volar-wrist\"", "design = \"volar-wrst\""), "volar-wrist"},
      {changed("per_month = \"4\"", "per_month = \"4\"\nedging = \"lining-thin\""),
       "\"lining-thin\" is of kind lining, not edging"},
      {changed("design = \"volar-wrist\"\n", ""), "the pattern is given in 0 ways"},
      {changed("design = \"volar-wrist\"",
               "design = \"volar-wrist\"\narea = \"200 cm2\"\nshaped_like = \"volar-wrist\""),
       "the pattern is given in 2 ways"},
      {changed("design = \"volar-wrist\"", "area = \"200 cm2\""), "shaped_like: is missing"},
      {changed("design = \"volar-wrist\"", "area = \"200\"\nshaped_like = \"volar-wrist\""),
       "c.toml:9:8: kind.wrist.area"},
      {changed("design = \"volar-wrist\"", "outline = \"no-such-file.svg\""), "no-such-file.svg"},
      {changed("\nper_month = \"4\"", ""), "the demand is given in no way, or in two"},
      {changed("per_month = \"4\"", "history = \"wrist\""), "there is no history to count from"},
      {changed("per_month = \"4\"", "per_month = \"-4\""), "c.toml:11:13: kind.wrist.per_month"},
      {changed("per_month = \"4\"", "per_month = \"4\"\nscrap = \"80 %\""),
       "kind.wrist.scrap: 80 % is outside"},
      {changed("per_month = \"4\"", "per_month = \"4\"\nremakes = \"5 %\""), "did you mean remake?"},
      {changed("per_month = \"4\"", "per_month = \"4\"\nedging = \"edging-tap\""), "edging-tape"},
      {changed("stock = \"elastic-clear/3.2-solid\"\nper_month",
               "stock = \"elastic-clear/2.4-solid\"\nper_month"),
       "is not among the items of this caseload"},
      {with("[kind.people]\nyoungest = \"4 yr\"\n"), "children need both"},
      {with("[kind.people]\nyoungest = \"9 yr\"\noldest = \"4 yr\"\n"), "is younger than the youngest"},
      {with("[kind.people]\nyoungest = \"4 yr\"\noldest = \"70 yr\"\n"), "oldest: 70 yr is outside"},
      {with("[[kind.size]]\nname = \"small\"\nshare = \"60 %\"\n[kind.size.measures]\nhand_breadth = \"70 "
            "mm\"\n"),
       "the shares add up to 60 %"},
      {with("[[kind.size]]\nname = \"small\"\nshare = \"100 %\"\n"),
       "a size of a design is given by its measures"},
      {with("[[kind]]\nid = \"wrist\"\ndesign = \"volar-wrist\"\nstock = "
            "\"elastic-clear/3.2-solid\"\nper_month = \"1\"\n"),
       "kind wrist stands here twice"},
      {with("[[roll]]\nfixing = \"lining-thin\"\nroll = \"5 m\"\non_hand = \"1 m\"\n"),
       "\"lining-thin\" is of kind lining, not strap or edging"},
      {with("[[roll]]\nfixing = \"strap-50\"\nroll = \"5\"\non_hand = \"1 m\"\n"), "roll.1.roll"},
      {with("[cutting]\nmethod = \"by eye\"\n"), "allowed: as you go, batched, precut blanks"},
      {with("[cutting]\nspacing = \"3,5 mm\"\n"), "decimal"},
      {with("[cutting]\nleast_side = \"2 m\"\n"), "cutting.least_side: 2 m is outside"},
      {with("[[variant]]\nid = \"weekly\"\n"), "there is already a variant \"weekly\""},
      {with("[[variant]]\nid = \"x\"\n[variant.sizes]\n\"elastic-clear/3.2-solid\" = "
            "\"elastic-clear/2.4-solid\"\n"),
       "cannot take its place"},
      {with("[[variant]]\nid = \"x\"\n[variant.pooled]\n\"elastic-clear/2.4-solid\" = "
            "\"elastic-clear/3.2-solid\"\n"),
       "is not among the items"},
      {with("[[item]]\nstock = \"elastic-clear/2.4-solid\"\non_hand = 1\n[[variant]]\nid = "
            "\"x\"\n[variant.pooled]\n\"elastic-clear/2.4-solid\" = "
            "\"elastic-clear/3.2-solid\"\n\"elastic-clear/3.2-solid\" = \"elastic-clear/2.4-solid\"\n"),
       "\"elastic-clear/2.4-solid\" is itself replaced here"},
      {"season = [1, 1]\n" + sound, "c.toml:1:1: season: expected twelve numbers"},
      {"season = \"busy\"\n" + sound, "season: expected twelve numbers"},
      {"first_month = \"Octember\"\n" + sound, "first_month"},
      {"growth = \"800 %\"\n" + sound, "growth: 800 % is outside"},
      {"label = \"only\"\n", "there is no stock item"},
      {"[history]\nfile = \"absent.csv\"\n", "absent.csv"},
      {"[history]\nfile = \"a.csv\"\ndialect = \"pipe\"\n", "allowed: comma, semicolon, tab"},
      {with("[[roll]]\nfixing = \"strap-50\"\nroll = \"10 m\"\non_hand = \"1 m\"\nprice = \"1 EUR\"\n"),
       "roll.1.price: is in EUR, other prices are in cr"},
      {with("[[roll]]\nfixing = \"strap-50\"\nroll = \"10 m\"\non_hand = \"1 m\"\n[roll.supply]\nstorage = "
            "1\n"),
       "roll.1.supply.storage: is for sheets"},
      {"label = \"x\"\npatient = \"somebody\"\n", "patient"},
      {"label = [", "c.toml:1:"}};
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const std::vector<std::string> problems = problems_of(row.text);
    std::string all;
    for (const std::string& problem : problems) all += problem + "\n";
    CAPTURE(all);
    CHECK(all.find(row.expected) != std::string::npos);
  }
}

TEST_CASE("one slip is one problem") {
  const std::string price = "on_hand = 3\n[[item.price]]\nfrom = 1\neach = ";
  for (const std::string& text :
       {changed("per_month = \"4\"", "per_month = \"four\""), changed("\"8 d\"", "\"8 mm\""),
        changed("on_hand = 3", price + "\"20,50 EUR\"\n[[item.price]]\nfrom = 5\neach = \"20 EUR\""),
        changed("on_hand = 3", "on_hand = 3\n[[item.price]]\nfrom = 1"),
        changed("on_hand = 3",
                "on_hand = 3\nsizes = [\"elastic-clear/3.2-solid-large\"]\n[[item.price]]\nfrom = 1\n"
                "each = \"20,50 EUR\""),
        changed("design = \"volar-wrist\"", "area = \"big\"\nshaped_like = \"volar-wrist\""),
        "[history]\nfile = \"absent.csv\"\n" + changed("per_month = \"4\"", "history = \"wrist\""),
        changed("on_hand = 3", price + "\"20 EUR\"") +
            "[[roll]]\nfixing = \"strap-50\"\nroll = \"10 m\"\non_hand = \"1 m\"\n"}) {
    CAPTURE(text);
    // The label of a text that begins with a table is looked for there.
    std::vector<std::string> problems = problems_of(text);
    std::erase_if(problems, [](const std::string& p) { return p.find("label") != std::string::npos; });
    CHECK(problems.size() == 1);
  }
}

TEST_CASE("what a roll costs is its own price, else the library's, and what only sheets have is not its") {
  const std::string roll = "[[roll]]\nfixing = \"strap-50\"\nroll = \"10 m\"\non_hand = \"1 m\"\n";
  const auto read = [](const std::string& text) { return parse_caseload(text, "c.toml", shipped()); };
  const Roll usual = read(with(roll)).rolls.front();
  CHECK(usual.price.si() == shipped().fixing("strap-50").price.si());
  CHECK(near_rel(read(with(roll + "price = \"2.5 cr\"\n")).rolls.front().price.si(), 2.5, 1e-12));
  const std::string sheets =
      "lead_time = \"8 d\"\nstorage = 4\nshelf_life = \"1 yr\"\nshortage_cost = \"3 cr\"";
  const Caseload shared = read(changed("lead_time = \"8 d\"", sheets) + roll);
  CHECK(shared.items.front().supply.storage.has_value());
  CHECK(!shared.rolls.front().supply.storage.has_value());
  CHECK(!shared.rolls.front().supply.shelf_life.has_value());
  CHECK(!shared.rolls.front().supply.shortage_cost.has_value());
}

TEST_CASE("what the example explains behind a # is right too") {
  std::ifstream file(example);
  std::string text;
  for (std::string line; std::getline(file, line);) {
    const bool nested = line.starts_with("#   ");
    const bool key = std::any_of(std::begin(explained), std::end(explained), [&](const std::string& name) {
      return line.starts_with("# " + name + " = ");
    });
    text += (nested ? line.substr(4) : key ? line.substr(2) : line) + "\n";
  }
  const Caseload caseload = parse_caseload(text, example, shipped());
  CHECK(caseload.items.front().discount == Discount::incremental);
  CHECK(caseload.items.front().pack.si() == 5.0);
  CHECK(caseload.items.front().supply.shortage_cost.has_value());
  CHECK(std::any_of(caseload.kinds.begin(), caseload.kinds.end(),
                    [](const Kind& kind) { return kind.sizes.size() == 2; }));
}

TEST_CASE("a history is as well founded as the table that names it") {
  const testing::Scratch scratch;
  static_cast<void>(scratch.file("h.csv", "month,wrist\n2031-01,2\n2031-02,4\n"));
  for (const auto& [stated, basis] : std::vector<std::pair<std::string, Basis>>{
           {"", Basis::entered}, {"basis = \"demo\"\n", Basis::demo}}) {
    const std::string path = scratch.file("c.toml", changed("per_month = \"4\"", "history = \"wrist\"") +
                                                        "[history]\nfile = \"h.csv\"\n" + stated);
    const Caseload caseload = read_caseload(path, shipped());
    CHECK(caseload.history_origin.basis == basis);
    CHECK(demand_figure(caseload.kinds.front(), caseload).basis() == basis);
  }
}

TEST_CASE("a history is found beside the caseload and its slips are placed in its own file") {
  const testing::Scratch scratch;
  static_cast<void>(scratch.file("h.csv", "month;wrist\n1;2\n2;x\n"));
  std::string text = "[history]\nfile = \"h.csv\"\ndialect = \"semicolon\"\n" +
                     changed("per_month = \"4\"", "history = \"wrst\"");
  text = "label = \"test\"\n" + text.erase(text.find("label = \"test\"\n"), 15);
  const std::string path = scratch.file("c.toml", text);
  try {
    static_cast<void>(read_caseload(path, shipped()));
    FAIL("was accepted");
  } catch (const Failure& failure) {
    CHECK(failure.problems().front().text().find("h.csv:3:3: \"x\" is no count") != std::string::npos);
  }
  static_cast<void>(scratch.file("h.csv", "month;wrist\n1;2\n2;3\n"));
  try {
    static_cast<void>(read_caseload(path, shipped()));
    FAIL("was accepted");
  } catch (const Failure& failure) {
    CHECK(failure.problems().front().text().find("did you mean wrist?") != std::string::npos);
  }
}
