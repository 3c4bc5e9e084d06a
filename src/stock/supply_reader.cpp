// SPDX-License-Identifier: MIT
#include "stock/supply_reader.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/calendar.h"
#include "base/text.h"

namespace warmsheet::stock {
namespace {

constexpr Limits lead_time_s{0.0, 2.0 * year_s};
constexpr Limits review_s{0.2 * day_s, year_s};
constexpr Limits shelf_life_s{7.0 * day_s, 30.0 * year_s};
/// A promise of 100 % has no level that keeps it; below one half a shelf is mostly empty.
constexpr Limits service_ratio{0.5, 0.9999};
constexpr Limits share_a_year{0.0, 2.0};
constexpr Limits any_money{0.0, 1e7};
constexpr Limits offcut_m{0.01, 3.0};
constexpr Limits roll_m{0.1, 1000.0};
constexpr Limits length_on_hand_m{0.0, 1e5};
constexpr Limits practice_sheets{0.0, 1000.0};
constexpr std::int64_t most_sheets = 100'000;

Figure usual(std::string name, double si, const Unit& unit, std::string where) {
  return Figure::stated(std::move(name), Range::exactly(si), unit,
                        {.basis = Basis::practice, .where = std::move(where)});
}

Figure not_stated(std::string name, double si, const Unit& unit) {
  return Figure::stated(std::move(name), Range::exactly(si), unit,
                        {.basis = Basis::memory, .where = "not stated in the caseload"});
}

/// Absent if it is missing or cannot be read, which is told once.
std::optional<Figure> required_money(toml::Reader& reader, std::string_view key) {
  if (reader.has(key)) return reader.figure_if(key, Dimension::money, any_money);
  static_cast<void>(reader.figure(key, Dimension::money));
  return std::nullopt;
}

template <class T>
std::optional<T> first_of(std::optional<T> own, const std::optional<T>& shared) {
  return own ? std::move(own) : shared;
}

}  // namespace

std::optional<Figure> counted_if(toml::Reader& reader, std::string_view key, std::int64_t low,
                                 std::int64_t high) {
  const auto count = reader.whole_if(key, low, high);
  if (!count) return std::nullopt;
  return Figure::stated(fmt::format("{}.{}", reader.path(), key), Range::exactly(static_cast<double>(*count)),
                        units::one(), reader.origin_of(key));
}

Figure counted(toml::Reader& reader, std::string_view key, std::int64_t low, std::int64_t high) {
  const std::int64_t count = reader.whole(key, low, high);
  return counted_if(reader, key, low, high)
      .value_or(Figure::stated(std::string(key), Range::exactly(static_cast<double>(count)), units::one(),
                               {.basis = Basis::demo}));
}

std::optional<Figure> SupplyReader::review_if(toml::Reader& reader) {
  return reader.figure_if("review", Dimension::duration, review_s);
}

std::optional<Figure> SupplyReader::service_if(toml::Reader& reader) {
  return reader.figure_if("service", Dimension::ratio, service_ratio);
}

SupplyReader::Partial SupplyReader::read_partial(toml::Reader& reader) {
  Partial partial;
  partial.states_lead_time = reader.has("lead_time");
  partial.lead_time = reader.figure_if("lead_time", Dimension::duration, lead_time_s);
  if (reader.has("watch")) partial.continuous = reader.choice("watch", {"always", "at reviews"}) == "always";
  partial.review = review_if(reader);
  if (partial.continuous && partial.review)
    reader.problem("review", "the shelf is watched always and looked at now and then",
                   "give either watch = \"always\" or review = \"7 d\"");
  partial.service = service_if(reader);
  if (reader.has("promise"))
    partial.promise = reader.choice("promise", {"cycle service", "fill rate"}) == "fill rate"
                          ? Promise::fill
                          : Promise::cycle;
  partial.order_cost = reader.figure_if("order_cost", Dimension::money, any_money);
  partial.holding = reader.figure_if("holding", Dimension::ratio, share_a_year);
  partial.shelf_life = reader.figure_if("shelf_life", Dimension::duration, shelf_life_s);
  partial.storage = counted_if(reader, "storage", 1, most_sheets);
  partial.shortage_cost = reader.figure_if("shortage_cost", Dimension::money, any_money);
  partial.least_order = counted_if(reader, "least_order", 1, most_sheets);
  check_currency(reader, "order_cost", partial.order_cost);
  check_currency(reader, "shortage_cost", partial.shortage_cost);
  return partial;
}

void SupplyReader::check_currency(toml::Reader& reader, std::string_view key,
                                  const std::optional<Figure>& money) {
  if (!money) return;
  if (currency_ == nullptr) currency_ = &money->unit();
  if (&money->unit() != currency_)
    reader.problem(key,
                   fmt::format("is in {}, other prices are in {}", money->unit().ascii, currency_->ascii),
                   "prices are never converted: state all of them in one currency");
}

void SupplyReader::check_library_currency(toml::Reader& reader, std::string_view key, const Figure& money,
                                          std::string_view remedy) {
  if (currency_ == nullptr || &money.unit() == currency_) {
    currency_ = &money.unit();
    return;
  }
  reader.problem(key,
                 fmt::format("has a price in {} in the library, other prices are in {}", money.unit().ascii,
                             currency_->ascii),
                 fmt::format("prices are never converted: {} in {}", remedy, currency_->ascii));
}

void SupplyReader::read_shared(toml::Reader& root) {
  if (auto shared = root.table_if("supply")) shared_ = read_partial(*shared);
}

Supply SupplyReader::supply(toml::Reader& entry, const Figure& price,
                            const std::vector<std::string>& refused) {
  Partial own;
  Place place = entry.place();
  if (auto table = entry.table_if("supply")) {
    place = table->place();
    own = read_partial(*table);
    for (const std::string& key : refused)
      if (table->has(key))
        table->problem(key, "is for sheets, which are simulated; levels of rolls are worked out without it",
                       "leave it out");
  }
  const std::string name = entry.path();
  auto lead_time = first_of(own.lead_time, shared_.lead_time);
  if (!lead_time && !own.states_lead_time && !shared_.states_lead_time)
    problems_.add(place, name + ": the lead time is missing",
                  "state lead_time = \"8 d\" in [supply] for all, or in its own supply");
  const Unit& money = price.unit();
  auto review = own.continuous ? std::nullopt : first_of(own.review, shared_.review);
  return {
      .lead_time = lead_time.value_or(not_stated("lead_time", day_s, *find_unit(Dimension::duration, "d"))),
      .review = std::move(review),
      .service = first_of(own.service, shared_.service)
                     .value_or(usual("service", 0.95, units::percent(), "the usual target of stock keeping")),
      .promise = first_of(own.promise, shared_.promise).value_or(Promise::cycle),
      .order_cost =
          first_of(own.order_cost, shared_.order_cost).value_or(not_stated("order_cost", 0.0, money)),
      .holding = first_of(own.holding, shared_.holding)
                     .value_or(usual("holding", 0.2, units::percent(),
                                     "the share of the price that textbooks take for a year on the shelf")),
      .shelf_life = first_of(own.shelf_life, shared_.shelf_life),
      .storage = first_of(own.storage, shared_.storage),
      .shortage_cost = first_of(own.shortage_cost, shared_.shortage_cost),
      .least_order = first_of(own.least_order, shared_.least_order)
                         .value_or(not_stated("least_order", 1.0, units::one()))};
}

Supply SupplyReader::supply_of_roll(toml::Reader& entry, const Figure& price) {
  Supply made = supply(entry, price, {"storage", "shelf_life", "shortage_cost"});
  made.storage.reset();
  made.shelf_life.reset();
  made.shortage_cost.reset();
  return made;
}

std::vector<PriceStep> SupplyReader::read_prices(toml::Reader& entry, const library::StockItem& stock) {
  std::vector<PriceStep> steps;
  for (toml::Reader& step : entry.tables("price")) {
    const int from = static_cast<int>(step.whole("from", 1, most_sheets));
    const std::optional<Figure> price = required_money(step, "each");
    check_currency(step, "each", price);
    if (steps.empty() && from != 1) step.problem("from", "the first price must start at 1 sheet");
    if (!steps.empty() && from <= steps.back().from)
      step.problem("from", fmt::format("price steps must rise, {} follows {}", from, steps.back().from));
    if (!steps.empty() && price && price->si() > steps.back().price.si())
      step.problem("each",
                   fmt::format("is more than the {} for fewer sheets",
                               write_exact(steps.back().price.si(), steps.back().price.unit())),
                   "write what one sheet costs where so many are bought at once");
    steps.push_back({from, price.value_or(stock.price)});
  }
  if (steps.empty()) {
    check_library_currency(entry, "stock", stock.price, "add [[item.price]] with from = 1 and each");
    steps.push_back({1, stock.price});
  }
  return steps;
}

void SupplyReader::read_sizes(toml::Reader& entry, Item& item) {
  const library::StockItem& main = library_.stock_item(item.key);
  item.sizes = {item.key};
  for (const std::string& key : entry.texts_if("sizes")) {
    collecting(problems_, entry.place_of("sizes"), [&] {
      const library::StockItem& other = library_.stock_item(key);
      if (!other.differs_only_in_size(main))
        entry.problem("sizes", fmt::format("{} is another sheet than {}", clip(key, 60), item.key),
                      "list only other sizes of the same sheet, thickness and perforation");
    });
    if (std::find(item.sizes.begin(), item.sizes.end(), key) == item.sizes.end()) item.sizes.push_back(key);
  }
}

/// Of one sheet: the item's own price for the size in use, then as stated here, then the library's. A size in
/// another currency could not be compared with the one in use.
void SupplyReader::read_size_prices(toml::Reader& entry, Item& item) {
  item.size_prices.emplace(item.key, item.prices.front().price);
  if (auto stated = entry.table_if("size_price"))
    for (const std::string& key : stated->names()) {
      const Figure price = stated->figure(key, Dimension::money, any_money);
      check_currency(*stated, key, price);
      if (std::find(item.sizes.begin() + 1, item.sizes.end(), key) == item.sizes.end())
        stated->problem(key, "is not among the other sizes of this item",
                        "list it in sizes; the size in use has its price in [[item.price]]");
      item.size_prices.emplace(key, price);
    }
  for (const std::string& key : item.sizes) {
    if (item.size_prices.contains(key)) continue;
    collecting(problems_, entry.place_of("sizes"), [&] {
      const Figure& price = library_.stock_item(key).price;
      item.size_prices.emplace(key, price);
      // Where no price could be read nothing says which currency is meant.
      if (currency_ != nullptr && &price.unit() != currency_)
        entry.problem(
            "sizes",
            fmt::format("{} costs {} {} in the library, other prices are in {}", clip(key, 60), price.value(),
                        price.unit().ascii, currency_->ascii),
            fmt::format("state what you pay for one sheet in [item.size_price], for example \"{}\" = "
                        "\"80 {}\", or leave this size out",
                        clip(key, 60), currency_->ascii));
    });
  }
}

/// Of one of the sizes that the item can be bought in; those that are unknown are told elsewhere.
bool SupplyReader::comes_from_a_sheet(const Item::Kept& offcut, const Item& item) const {
  const auto known = library_.all_stock();
  return std::none_of(known.begin(), known.end(),
                      [&](const library::StockItem* stock) { return stock->key() == item.key; }) ||
         std::any_of(known.begin(), known.end(), [&](const library::StockItem* stock) {
           const auto [narrow, wide] = std::minmax({offcut.length.si(), offcut.width.si()});
           const auto [sheet_narrow, sheet_wide] = std::minmax({stock->width.si(), stock->length.si()});
           return stock->differs_only_in_size(library_.stock_item(item.key)) && narrow <= sheet_narrow &&
                  wide <= sheet_wide;
         });
}

void SupplyReader::read_shelf(toml::Reader& entry, Item& item) {
  for (toml::Reader& coming : entry.tables("on_order"))
    item.on_order.push_back(
        {counted(coming, "sheets", 1, most_sheets), coming.figure("due", Dimension::duration, lead_time_s)});
  for (const std::string& text : entry.texts_if("offcuts"))
    collecting(problems_, entry.place_of("offcuts"), [&] {
      const WrittenSize size = parse_size(text);
      const auto side = [&](const char* name, Length length) {
        if (length.si < offcut_m.low || length.si > offcut_m.high)
          entry.problem("offcuts", fmt::format("\"{}\" is no offcut of a sheet", clip(text, 30)),
                        "sides from 10 mm to 3 m");
        return Figure::stated(fmt::format("{}.offcut {}", entry.path(), name), Range::exactly(length.si),
                              units::millimetre(), entry.origin_of("offcuts"));
      };
      item.offcuts.push_back({side("length", size.width), side("width", size.height)});
      if (!comes_from_a_sheet(item.offcuts.back(), item))
        entry.problem("offcuts", fmt::format("\"{}\" is larger than a whole sheet", clip(text, 30)),
                      "mind the unit; a whole sheet counts in on_hand");
    });
}

Item SupplyReader::item(toml::Reader& entry) {
  const std::string key = entry.text("stock");
  const library::StockItem* stock = nullptr;
  collecting(problems_, entry.place_of("stock"), [&] { stock = &library_.stock_item(key); });
  // Only stands in until the problems are thrown.
  if (stock == nullptr) stock = library_.all_stock().front();
  std::vector<PriceStep> prices = read_prices(entry, *stock);
  Supply bought = supply(entry, prices.front().price);
  Item item{.key = stock->key(),
            .sizes = {},
            .on_hand = counted(entry, "on_hand", 0, most_sheets),
            .on_order = {},
            .offcuts = {},
            .practice = entry.figure_if("practice", Dimension::ratio, practice_sheets)
                            .value_or(not_stated("practice sheets", 0.0, units::one())),
            .pack = counted_if(entry, "pack", 1, most_sheets).value_or(stock->pack),
            .prices = std::move(prices),
            .size_prices = {},
            .discount = Discount::all_units,
            .supply = std::move(bought),
            .place = entry.place()};
  if (entry.has("discount") && entry.choice("discount", {"all units", "incremental"}) == "incremental")
    item.discount = Discount::incremental;
  read_sizes(entry, item);
  read_size_prices(entry, item);
  read_shelf(entry, item);
  return item;
}

Roll SupplyReader::roll(toml::Reader& entry) {
  const std::string id = entry.text("fixing");
  const library::Fixing* fixing = nullptr;
  collecting(problems_, entry.place_of("fixing"), [&] {
    fixing = &library_.fixing(id, {"strap", "edging"});
  });
  if (fixing != nullptr && fixing->price_per != "m")
    entry.problem("fixing", fmt::format("{} is not sold by the metre", clip(id, 40)),
                  "rolls are for straps and edging");
  const std::optional<Figure> own_price = entry.figure_if("price", Dimension::money, any_money);
  check_currency(entry, "price", own_price);
  if (fixing != nullptr && !entry.has("price"))
    check_library_currency(entry, "fixing", fixing->price, "add price = that of a metre");
  const Figure price =
      own_price.value_or(fixing != nullptr ? fixing->price : library_.all_stock().front()->price);
  return {.fixing = id,
          .length = entry.figure("roll", Dimension::length, roll_m),
          .on_hand = entry.figure("on_hand", Dimension::length, length_on_hand_m),
          .price = price,
          .supply = supply_of_roll(entry, price),
          .place = entry.place()};
}

}  // namespace warmsheet::stock
