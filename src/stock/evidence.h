// SPDX-License-Identifier: MIT
// What an item's answers rest on, so that each shows the weakest of it.
#pragma once

#include <string>
#include <vector>

#include "base/figure.h"
#include "library/library.h"
#include "stock/caseload.h"
#include "stock/pieces.h"
#include "stock/study.h"

namespace warmsheet::stock {

/// The demand of a kind as a figure: as typed, or the mean of its history.
Figure demand_figure(const Kind& kind, const Caseload& caseload);

/// Entered only if somebody typed how many.
Figure months_simulated(const Study& study);

std::vector<Figure> behind_supply(const Supply& supply);
std::vector<Figure> behind_roll(const Caseload& caseload, const Roll& roll,
                                const std::vector<KindPieces>& pieces);

class ItemEvidence {
 public:
  ItemEvidence(const Caseload& caseload, const library::Library& library, const Item& item,
               const std::vector<KindPieces>& pieces, const Figure& months);

  [[nodiscard]] std::vector<std::string> kind_ids() const { return kinds_; }
  [[nodiscard]] const std::vector<Figure>& behind_use() const { return use_; }
  [[nodiscard]] std::vector<Figure> behind_use_on(const library::StockItem& size) const;
  [[nodiscard]] const std::vector<Figure>& behind_stock() const { return stock_; }
  [[nodiscard]] const std::vector<Figure>& behind_cost() const { return cost_; }
  [[nodiscard]] const std::vector<Figure>& behind_year() const { return year_; }

 private:
  std::vector<std::string> kinds_;
  std::vector<Figure> demand_and_cut_;
  std::vector<Figure> use_;
  std::vector<Figure> stock_;
  std::vector<Figure> cost_;
  std::vector<Figure> year_;
};

}  // namespace warmsheet::stock
