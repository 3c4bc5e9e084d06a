// SPDX-License-Identifier: MIT
// From pieces to sheets: one stock item cut by one set of rules, piece by piece, month by month.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "stock/blank_shop.h"
#include "stock/caseload.h"
#include "stock/demand.h"
#include "stock/pieces.h"
#include "stock/raster.h"
#include "stock/straight_cuts.h"

namespace warmsheet::stock {

/// How sheets are cut, as plain numbers.
struct CuttingRules {
  Method method = Method::as_you_go;
  double batch_months = 1.0;  ///< between two batches
  bool keep_shapes = false;   ///< offcuts of any shape, else rectangles
  double spacing_mm = 0.0;
  double margin_mm = 0.0;
  double least_side_mm = 0.0;  ///< narrower rests are thrown away
  int most_offcuts = 0;
  double most_age_months = 1e9;  ///< shelf life
  bool may_flip = false;         ///< the sheet has no face side
};

struct MonthUse {
  int pieces = 0;
  int sheets = 0;    ///< opened for pieces
  int practice = 0;  ///< opened for practice
  double practice_mm2 = 0.0;
  double cut_mm2 = 0.0;   ///< area of the outlines
  double kept_mm2 = 0.0;  ///< offcuts at the end of the month
  int offcuts = 0;
};

/// Practice takes an area, whatever the size of the sheets: what is left of its sheet is practised on next.
struct Practice {
  std::vector<double> moments = {};  ///< months, in order
  double each_mm2 = 0.0;
};

struct Usage {
  std::vector<double> taken;  ///< moments at which a sheet leaves the shelf, months, in order
  std::vector<MonthUse> months;
};

/// Where a shape goes on a partly used sheet: the answers so far. A pure function of sheet and shape, so
/// forgetting it changes nothing but the time.
class SpotCache {
 public:
  /// `least_end` as for Grid::find.
  std::optional<Grid::Spot> find(Grid& grid, std::uint64_t grid_hash, std::size_t shape,
                                 const Silhouette& silhouette, int least_end);

 private:
  struct Entry {
    std::uint64_t key = 0;
    std::optional<Grid::Spot> spot;
  };
  /// About 10 MB, taken at the first question; a newer answer takes the place of an older one.
  static constexpr std::size_t places = 1U << 18U;
  std::vector<Entry> entries_;
};

/// A stock item made ready to be cut in one sheet size by one set of rules. Immutable, so shared by all
/// threads.
class CuttingBench {
 public:
  /// `kinds`: all kinds of the caseload, which must outlive the bench; `per_month[k]`: pieces of kind k a
  /// month, below 0 if it is not cut from this item.
  CuttingBench(Rectangle sheet_mm, CuttingRules rules, const std::vector<KindPieces>& kinds,
               const std::vector<double>& per_month);
  /// A list that dies at once would leave the bench without its pieces.
  CuttingBench(Rectangle, CuttingRules, std::vector<KindPieces>&&, const std::vector<double>&) = delete;

  /// Kinds with a size that no empty sheet holds.
  [[nodiscard]] const std::vector<std::size_t>& misfits() const { return misfits_; }
  [[nodiscard]] double sheet_mm2() const { return sheet_.area_mm2(); }
  [[nodiscard]] const CuttingRules& rules() const { return rules_; }
  /// Only where blanks are cut ahead.
  [[nodiscard]] const std::optional<BlankShop>& blanks() const { return blanks_; }

  /// Cuts all arrivals of its kinds. \pre no misfits
  [[nodiscard]] Usage cut(const std::vector<Arrival>& arrivals, int months, const Practice& practice,
                          const std::vector<Rectangle>& offcuts_mm, SpotCache& cache) const;

 private:
  struct Shape {
    std::size_t number;  ///< among all shapes of this bench
    const PieceSize* piece;
    Silhouette silhouette;  ///< empty where only straight cuts are made
  };
  friend class StraightRun;
  friend class ShapeRun;
  friend class BlankRun;
  /// True shapes are laid on the grid, else rectangles are cut straight.
  [[nodiscard]] bool on_grid() const {
    return rules_.method == Method::batched || (rules_.method == Method::as_you_go && rules_.keep_shapes);
  }
  [[nodiscard]] bool fits_empty(const Shape& shape) const;
  [[nodiscard]] const Shape& shape(const Arrival& arrival) const;
  struct Job {
    double moment;  ///< when it is cut
    Arrival arrival;
  };
  /// What is cut, in this order.
  [[nodiscard]] std::vector<Job> jobs(const std::vector<Arrival>& arrivals, int months) const;
  template <class Run>
  static void walk(Run& run, const std::vector<Job>& jobs, int months);

  Rectangle sheet_;
  Rectangle usable_;  ///< less its edge margin
  CuttingRules rules_;
  double cell_mm_;
  double least_piece_mm2_;
  std::vector<std::vector<Shape>> shapes_;  ///< by kind and size; none for kinds of other items
  std::size_t shape_count_ = 0;
  std::vector<std::size_t> misfits_;
  std::optional<BlankShop> blanks_;
};

}  // namespace warmsheet::stock
