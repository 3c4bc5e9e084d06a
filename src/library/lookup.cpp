// SPDX-License-Identifier: MIT
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "library/library.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

[[noreturn]] void refuse(std::string_view what, std::string_view seen,
                         const std::vector<std::string>& known) {
  throw Failure({Trouble::usage,
                 {},
                 fmt::format("the library has no {} \"{}\"", what, clip(seen, 60)),
                 known_hint(seen, known)});
}

template <class Record>
const Record& find(const std::map<std::string, Record>& records, std::string_view what, std::string_view id) {
  const auto at = records.find(std::string(id));
  if (at == records.end()) refuse(what, id, ids_of(records));
  return at->second;
}

}  // namespace

const Sheet& Library::sheet(std::string_view id) const {
  return find(sheets, "sheet", id);
}
const SkinKind& Library::skin(std::string_view id) const {
  return find(skins, "skin kind", id);
}
const Covering& Library::liner(std::string_view id) const {
  return find(surroundings.liners, "liner", id);
}
const Covering& Library::wrap(std::string_view id) const {
  return find(surroundings.wraps, "wrap", id);
}
const Perforation& Library::perforation(std::string_view id) const {
  return find(perforations, "perforation", id);
}
const Design& Library::design(std::string_view id) const {
  return find(designs, "design", id);
}
const Condition& Library::condition(std::string_view id) const {
  return find(conditions, "condition", id);
}
const Measure& Library::measure(std::string_view id) const {
  return find(measures, "measure", id);
}
const Fixing& Library::fixing(std::string_view id) const {
  return find(fixings, "fixing", id);
}
const Fixing& Library::fixing(std::string_view id, const std::vector<std::string>& kinds) const {
  const auto wanted = [&](const Fixing& fixing) {
    return std::find(kinds.begin(), kinds.end(), fixing.kind) != kinds.end();
  };
  const auto at = fixings.find(std::string(id));
  if (at != fixings.end() && wanted(at->second)) return at->second;
  std::vector<std::string> known;
  for (const auto& [each, fixing] : fixings)
    if (wanted(fixing)) known.push_back(each);
  const std::string kind = join(kinds, " or ");
  if (at == fixings.end()) refuse(kind, id, known);
  throw Failure({Trouble::usage,
                 {},
                 fmt::format("\"{}\" is of kind {}, not {}", clip(id, 60), at->second.kind, kind),
                 known_hint("", known)});
}
const Source& Library::source(std::string_view id) const {
  return find(sources, "source", id);
}

const BathState& Library::bath_state(std::string_view id) const {
  return find(surroundings.bath_states, "bath state", id);
}

bool StockItem::differs_only_in_size(const StockItem& other) const {
  return sheet == other.sheet && perforation == other.perforation && thickness.si() == other.thickness.si();
}

const StockItem* Sheet::usual_item(const std::optional<std::string>& asked) const {
  constexpr double usual_thickness_m = 3.2e-3;
  constexpr double same_thickness_m = 1e-5;
  constexpr const char* solid = "solid";
  const auto miss = [](const StockItem& item) { return std::abs(item.thickness.si() - usual_thickness_m); };
  const StockItem* best = nullptr;
  for (const StockItem& item : stock) {
    if (asked && item.perforation != *asked) continue;
    const bool nearer = best == nullptr || miss(item) < miss(*best) - same_thickness_m;
    const bool as_near = best != nullptr && std::abs(miss(item) - miss(*best)) <= same_thickness_m;
    if (nearer || (as_near && item.perforation == solid && best->perforation != solid)) best = &item;
  }
  return best;
}

std::vector<const StockItem*> Library::all_stock() const {
  std::vector<const StockItem*> items;
  for (const auto& [id, each] : sheets)
    for (const StockItem& item : each.stock) items.push_back(&item);
  return items;
}

const StockItem& Library::stock_item(std::string_view key) const {
  const std::size_t slash = key.find('/');
  if (slash == std::string_view::npos)
    throw Failure({Trouble::usage,
                   {},
                   fmt::format("\"{}\" names no stock: a sheet and an item are needed", clip(key, 60)),
                   "write for example " + all_stock().front()->key()});
  const Sheet& owner = sheet(key.substr(0, slash));
  std::vector<std::string> keys;
  for (const StockItem& item : owner.stock) {
    if (item.id == key.substr(slash + 1)) return item;
    keys.push_back(item.key());
  }
  refuse("stock item", key, keys);
}

}  // namespace warmsheet::library
