// SPDX-License-Identifier: MIT
// A whole caseload simulated: many independent stretches of four years, each after a year to settle, the same
// random orthoses for everything that is compared. Plain numbers here; `answers.h` makes figures of them.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/parallel.h"
#include "library/library.h"
#include "stock/areas.h"
#include "stock/caseload.h"
#include "stock/pieces.h"
#include "stock/reorder.h"
#include "stock/shelf.h"
#include "stock/summary.h"
#include "stock/usage.h"

namespace warmsheet::stock {

/// Which end of what is known about the demand: of a stated range, or of the mean of a history.
enum class DemandEnd { low, middle, high };

struct StudyOptions {
  int months = 1000;  ///< simulated, beside the settling; rounded up to whole stretches, two at least
  Basis months_basis = Basis::practice;  ///< entered if typed
  std::uint64_t seed = 1;
  Workers workers = {};
  bool sizes = true;        ///< also try the other sheet sizes
  bool projections = true;  ///< also project the coming year
  DemandEnd demand = DemandEnd::middle;
  /// Outlines of the same kinds and seed that were drawn for another study; drawn anew if there are none.
  const std::vector<KindPieces>* kinds = nullptr;
};

/// One way through the coming twelve months.
struct Path {
  std::vector<Summary> at_end;    ///< on hand at the end of each month
  std::vector<double> any_short;  ///< chance that something waits at some time of the month
  Summary ordered;                ///< sheets in the year
  Summary expired;
  Summary served;  ///< share of what was asked for
  Summary cost;    ///< goods, orders and holding in the year
};

/// One sheet size of an item.
struct SizeStudy {
  std::string key;
  bool possible = true;          ///< every outline fits
  Summary sheets;                ///< a month
  std::optional<Summary> waste;  ///< of a year's sheets, ratio; absent if nothing is cut
  Summary cost;                  ///< of a month's sheets at their price
  Estimate more_waste;           ///< against the size in use, same orthoses
  Estimate more_cost;            ///< a month
};

/// Why a promised service is not kept.
enum class Promised {
  kept,
  no_room,  ///< the shelf is full before
  too_old,  ///< what would keep it grows too old
};

struct ItemStudy {
  std::size_t item;  ///< index in the caseload
  bool possible = true;
  std::vector<std::size_t> misfits;  ///< kinds that do not fit the sheet

  Summary pieces;                        ///< a month
  Summary sheets;                        ///< a month, practice included
  bool used = true;                      ///< any sheet was taken
  std::optional<Summary> waste;          ///< as of SizeStudy
  Summary offcuts;                       ///< kept at the end of a month
  std::vector<Summary> sheets_by_month;  ///< of the calendar, twelve

  Law cover = Law::exactly(0);  ///< sheets wanted between an order and its delivery
  OrderPolicy policy{};
  LotTerms lot_terms;
  Lot lot{};  ///< by cost alone
  Promised promised = Promised::kept;
  std::optional<Estimate> cycle_service;  ///< absent if nothing was ever delivered
  std::optional<Estimate> fill_rate;      ///< absent if nothing was ever asked for
  Summary on_hand;                        ///< mean of a month
  Summary orders_a_year;
  Summary expired_a_year;
  Summary cost;  ///< of a month, averaged over a year

  std::vector<std::vector<double>> cost_by_year;  ///< of a month; by stretch, then by start and year
  std::vector<Areas> areas_by_year;               ///< stretch after stretch
  std::vector<double> pieces_each_month;          ///< of all stretches; what is added up over items
  std::vector<double> sheets_each_month;

  std::vector<BlankKind> blanks;     ///< only where blanks are cut ahead
  std::vector<PatternUse> patterns;  ///< sheets a month of each
  double blanks_bound = 0.0;         ///< sheets a month that no cutting to these blanks goes below

  int position = 0;  ///< on hand and on order today
  int to_order = 0;  ///< today
  std::optional<Path> with_policy;
  std::optional<Path> without_orders;
  std::vector<SizeStudy> sizes;  ///< the one in use first
};

struct Study {
  std::vector<KindPieces> kinds;
  std::vector<ItemStudy> items;
  int months = 0;  ///< really simulated, without settling
  Basis months_basis = Basis::practice;
  int stretches = 0;
  bool stopped = false;  ///< interrupted: nothing above may be used
};

/// Simulates. Deterministic for a seed and any number of threads.
/// Throws a Failure (data) if an outline cannot be drawn.
Study study(const Caseload& caseload, const library::Library& library, const StudyOptions& options);

/// Is there anything between the ends?
bool demand_is_uncertain(const Caseload& caseload);

/// 90 % range of a kind's orthoses a month: as stated, or of the mean of its history.
Range monthly_mean(const Kind& kind, const Caseload& caseload);

/// The caseload as a variant would have it.
Caseload with_variant(const Caseload& caseload, const Variant& variant, const library::Library& library);

/// Variant by id. Throws a Failure (usage) that names the nearest known one.
const Variant& find_variant(const Caseload& caseload, std::string_view id);

}  // namespace warmsheet::stock
