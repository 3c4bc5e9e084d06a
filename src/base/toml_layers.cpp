// SPDX-License-Identifier: MIT
// Laying one document over another. What makes it delicate is the basis: a table may state it once for all
// plain values in it, so merging keys alone would let a user's own measurement pass for a handbook's, or the
// handbook's for a measurement. Each value therefore remembers what its own document stated around it
// (Value::stated).
#include <algorithm>
#include <utility>

#include "base/strict_toml.h"

namespace warmsheet::toml {
namespace {

bool entries_have_ids(const Array& array) {
  return !array.empty() &&
         std::all_of(array.begin(), array.end(), [](const Value& v) { return v.id() != nullptr; });
}

bool states_a_figure(const Table& table) {
  return table.contains("value") || table.contains("unknown");
}

/// Holds anything of its own beside its id, further tables and lists of tables.
bool states_something(const Table& table) {
  return std::any_of(table.begin(), table.end(), [](const auto& entry) {
    const auto& [key, value] = entry;
    const Array* array = value.array();
    const bool holds_tables = value.table() != nullptr || (array != nullptr && entries_have_ids(*array));
    return key != "id" && !holds_tables;
  });
}

void lay_table_over(Value& base, const Value& over) {
  Table& table = std::get<Table>(base.data);
  if (states_something(*over.table())) {
    for (const std::string_view key : detail::stating_keys) table.erase(std::string(key));
    base.stated = over.stated;
    base.place = over.place;
  }
  for (const auto& [key, value] : *over.table()) {
    const auto [at, inserted] = table.try_emplace(key, value);
    if (!inserted) lay_over(at->second, value);
  }
}

void lay_array_over(Array& base, const Array& over) {
  for (const Value& entry : over) {
    const auto same =
        std::find_if(base.begin(), base.end(), [&](const Value& v) { return *v.id() == *entry.id(); });
    if (same == base.end())
      base.push_back(entry);
    else
      lay_over(*same, entry);
  }
}

void remember(Value& value, const std::shared_ptr<const Stated>& around) {
  value.stated = around;
  if (auto* table = std::get_if<Table>(&value.data)) {
    const bool states = std::any_of(detail::stating_keys.begin(), detail::stating_keys.end(),
                                    [&](std::string_view key) { return table->contains(std::string(key)); });
    const auto inside = states ? std::make_shared<const Stated>(detail::refined(*around, value)) : around;
    for (auto& [key, child] : *table) remember(child, inside);
  }
  if (auto* array = std::get_if<Array>(&value.data))
    for (Value& entry : *array) remember(entry, around);
}

}  // namespace

void lay_over(Value& base, const Value& over) {
  const Table* base_table = base.table();
  const Table* over_table = over.table();
  const bool both_tables = base_table != nullptr && over_table != nullptr;
  if (both_tables && !states_a_figure(*base_table) && !states_a_figure(*over_table))
    return lay_table_over(base, over);
  auto* base_array = std::get_if<Array>(&base.data);
  const Array* over_array = over.array();
  const bool both_arrays = base_array != nullptr && over_array != nullptr;
  if (both_arrays && entries_have_ids(*base_array) && entries_have_ids(*over_array))
    return lay_array_over(*base_array, *over_array);
  base = over;
}

namespace detail {

Stated refined(Stated around, const Value& own) {
  if (const std::string* basis = own.text("basis")) around = Stated{.basis = basis_from_word(*basis)};
  if (const std::string* source = own.text("source")) {
    around.source = *source;
    around.where.clear();  // a table or page number belongs to the source it was written beside
    around.second_hand = false;
  }
  if (const std::string* where = own.text("where")) around.where = *where;
  if (const std::string* seen = own.text("seen")) around.second_hand = *seen == "second-hand";
  return around;
}

void remember_stated(Value& document) {
  remember(document, std::make_shared<const Stated>());
}

}  // namespace detail
}  // namespace warmsheet::toml
