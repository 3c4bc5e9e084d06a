// SPDX-License-Identifier: MIT
// From outlines and stock to a cut list: calls the nesting room and turns its layout into figures.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/figure.h"
#include "library/library.h"
#include "nesting/nest.h"
#include "outline/outline.h"
#include "plan/saved_layout.h"

namespace warmsheet::plan {

/// Why a layout on kept offcuts alone has no figure of a sheet.
inline constexpr const char* no_new_sheet = "no new sheet was used";

/// A sheet that can be bought: `width` is across (y in drawings), `length` along (x).
struct SheetSize {
  std::string name;
  Figure width;
  Figure length;
  std::optional<Figure> price;
  std::optional<int> count = {};              ///< how many there are; as many as needed if nothing is said
  std::vector<outline::Polygon> spoilt = {};  ///< zones to keep clear of, from the sheet's lower left corner
};

/// A kept piece of sheet: a rectangle or any shape.
struct Offcut {
  std::string name;
  outline::Polygon shape;
  Figure area;
  std::vector<outline::Polygon> spoilt = {};  ///< from the lower left corner of the shape's box
};

struct CutItem {
  outline::Outline outline;
  int copies = 1;
  std::string group = {};  ///< copies of one number in one group come from one sheet
  int priority = 0;        ///< where stock runs out, higher ones are placed first
};

/// When what remains of a sheet is worth keeping.
struct KeepLimits {
  Figure least_side;
  Figure least_area;
  static KeepLimits usual(const library::CuttingHabits& habits) {
    return {habits.keep_side, habits.keep_area};
  }
};

struct CutRequest {
  std::vector<CutItem> items;
  std::vector<SheetSize> sheets;
  std::vector<Offcut> offcuts;
  Figure spacing;
  Figure margin;
  nesting::Rotations rotations;
  bool may_flip = false;
  nesting::Effort effort;
  KeepLimits keep;
  /// An earlier layout: its pieces stay where they lie, or the search begins from it.
  std::optional<SavedLayout> laid = {};
  std::optional<SavedLayout> start = {};
};

struct Cutting {
  nesting::Order order;
  nesting::Layout layout;
  Figure sheets_used;         // ratio, count; offcuts are not sheets
  Figure utilisation;         // ratio: outlines over sheets and offcuts used
  Finding used_length;        // m, on the last sheet; absent if no sheet was used
  Figure bound;               // ratio, count
  Figure above_bound;         // ratio, count: sheets found less the bound
  Finding longer_than_bound;  // m, used length less the least there can be; absent if no sheet was used
  std::vector<nesting::Remnant> remnants;
  KeepLimits keep;
  Figure spacing;  // m, between outlines
  /// Why prices did not count; empty if they did, or if there are none.
  std::string prices_left_out = {};
  std::vector<std::vector<outline::WorkLine>> lines = {};  ///< to work along, of each piece of the order

  [[nodiscard]] bool worth_keeping(const nesting::Remnant& remnant) const;
  [[nodiscard]] bool complete() const { return layout.unplaced.empty(); }
  /// In the order of the contract: sheets_used, utilisation, used_length, bound; then the gaps.
  [[nodiscard]] std::vector<NamedFinding> results() const;
};

/// Throws a Failure (data) if the order or an earlier layout makes no sense.
Cutting cut(const CutRequest& request);

/// Sheets for a pattern known only by its area.
struct AreaEstimate {
  Figure sheet_share;  ///< sheets' worth of sheet: what it costs if the rest is kept
  Figure sheets_used;  ///< the same in whole sheets
  Figure utilisation;
  Figure bound;  ///< area alone over sheet area, rounded up
  [[nodiscard]] std::vector<NamedFinding> results() const;
};
/// Sheets needed if the usual share of a sheet becomes orthosis. `usual_utilisation` is a ratio with its
/// range; the answer carries that range and that of the area, and says that it is an estimate.
AreaEstimate estimate_by_area(const Figure& area, int copies, const SheetSize& sheet,
                              const Figure& usual_utilisation);

/// "free", "none", "90" and "180" (steps), or a list: "0 deg, 45 deg". Throws a Failure (data).
nesting::Rotations parse_rotations(std::string_view text);

/// A rectangle from its corner at the origin.
outline::Polygon rectangle(double length_mm, double width_mm);

}  // namespace warmsheet::plan
