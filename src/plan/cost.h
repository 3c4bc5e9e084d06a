// SPDX-License-Identifier: MIT
// What one orthosis costs in material. Labour is not priced: nobody's hour is in the library.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/figure.h"
#include "library/library.h"
#include "outline/outline.h"
#include "plan/cutting.h"

namespace warmsheet::plan {

struct CostLine {
  std::string what;
  Figure amount;  ///< how much of it
  Figure price;   ///< for one unit of it
  Figure cost;
};

struct Cost {
  std::vector<CostLine> lines;
  Finding total;             ///< if what remains of the sheet is kept and used; absent in several currencies
  Finding total_no_offcuts;  ///< if the rest of every sheet is thrown away

  /// cost, cost_without_offcuts.
  [[nodiscard]] std::vector<NamedFinding> results() const;
};

struct CostRequest {
  const library::StockItem* stock;
  const Cutting* cutting;           ///< null for a pattern known only by its area
  const AreaEstimate* estimate;     ///< used when `cutting` is null
  const outline::Outline* outline;  ///< null for a pattern known only by its area
  int copies;
  Figure area;                    ///< of one outline
  const library::Fixing* edging;  ///< null for none
  const library::Fixing* lining;  ///< null for none
  const library::Library* library;
};
/// Sheet by used length; straps by length, edging by the length of cut edge, lining by area, or by the piece
/// where they are sold so.
Cost cost_of(const CostRequest& request);

}  // namespace warmsheet::plan
