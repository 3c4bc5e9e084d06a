// SPDX-License-Identifier: MIT
// The parts of a caseload that say how things are bought and kept.
#pragma once

#include "base/strict_toml.h"
#include "stock/caseload.h"

namespace warmsheet::stock {

/// A whole number with the basis of its table.
Figure counted(toml::Reader& reader, std::string_view key, std::int64_t low, std::int64_t high);
std::optional<Figure> counted_if(toml::Reader& reader, std::string_view key, std::int64_t low,
                                 std::int64_t high);

/// What [supply] says for all things, and each may say otherwise.
class SupplyReader {
 public:
  SupplyReader(const library::Library& library, Problems& problems)
      : library_(library), problems_(problems) {}

  /// [supply] of the whole file; without it every thing needs its own lead time.
  void read_shared(toml::Reader& root);
  [[nodiscard]] Item item(toml::Reader& entry);
  [[nodiscard]] Roll roll(toml::Reader& entry);

  /// Review and service of a variant, within the same limits.
  static std::optional<Figure> review_if(toml::Reader& reader);
  static std::optional<Figure> service_if(toml::Reader& reader);

 private:
  /// Everything may be absent; `lead_time` last of all.
  struct Partial {
    std::optional<Figure> lead_time, review, service, order_cost, holding, shelf_life, storage, shortage_cost,
        least_order;
    std::optional<Promise> promise;
    bool continuous = false;        ///< said in so many words
    bool states_lead_time = false;  ///< readable or not
  };
  Partial read_partial(toml::Reader& reader);
  /// `own` over the shared one over what is usual; `price` shows the currency.
  Supply supply(toml::Reader& entry, const Figure& price, const std::vector<std::string>& refused = {});
  /// The same for a roll: what only sheets have is refused in its own supply, and not taken from the shared
  /// one.
  Supply supply_of_roll(toml::Reader& entry, const Figure& price);
  std::vector<PriceStep> read_prices(toml::Reader& entry, const library::StockItem& stock);
  void check_currency(toml::Reader& reader, std::string_view key, const std::optional<Figure>& money);
  /// Of a price that stands in the library, not in the caseload.
  void check_library_currency(toml::Reader& reader, std::string_view key, const Figure& money,
                              std::string_view remedy);
  void read_sizes(toml::Reader& entry, Item& item);
  void read_size_prices(toml::Reader& entry, Item& item);
  void read_shelf(toml::Reader& entry, Item& item);
  [[nodiscard]] bool comes_from_a_sheet(const Item::Kept& offcut, const Item& item) const;

  const library::Library& library_;
  Problems& problems_;
  Partial shared_;
  const Unit* currency_ = nullptr;
};

}  // namespace warmsheet::stock
