// SPDX-License-Identifier: MIT
#include "stock/blank_shop.h"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "base/dimension.h"
#include "nesting/guillotine.h"

namespace warmsheet::stock {
namespace {

constexpr double marked_mm = 5.0;
/// Neighbouring sizes of a kind share a blank, so that six sizes need three.
constexpr std::size_t sizes_to_a_blank = 2;
/// The fractional plan is made for this many months at once, so that whole numbers of blanks state the mean
/// well.
constexpr double planned_months = 120.0;
/// More of a blank than this many months use is no gain.
constexpr double months_in_box = 2.0;

double marked(double mm) {
  return std::ceil(mm / marked_mm - 1e-9) * marked_mm;
}

/// The smallest box lying down.
Rectangle lying_box(const PieceSize& piece) {
  const Rectangle box = smallest_box(piece.boxes);
  return {std::max(box.length_mm, box.width_mm), std::min(box.length_mm, box.width_mm)};
}

bool holds(const Rectangle& blank, const PieceSize& piece) {
  return std::any_of(piece.boxes.begin(), piece.boxes.end(), [&](const Rectangle& box) {
    return box.length_mm <= blank.length_mm && box.width_mm <= blank.width_mm;
  });
}

bool fits(const Rectangle& sheet, const Rectangle& blank) {
  return (blank.length_mm <= sheet.length_mm && blank.width_mm <= sheet.width_mm) ||
         (blank.width_mm <= sheet.length_mm && blank.length_mm <= sheet.width_mm);
}

nesting::Micrometres whole_um(double mm) {
  return static_cast<nesting::Micrometres>(std::floor(mm * um_per_mm + 1e-6));
}

/// The guillotine programme as the source of patterns.
class GuillotinePatterns {
 public:
  GuillotinePatterns(const std::vector<BlankKind>& blanks, const Rectangle& sheet, double kerf_mm)
      : blanks_(blanks), sheet_(sheet), kerf_mm_(kerf_mm) {}

  Pattern operator()(const std::vector<double>& worth, const std::vector<int>& most) const {
    std::vector<nesting::Blank> worthy;
    std::vector<std::size_t> which;
    for (std::size_t i = 0; i < blanks_.size(); ++i) {
      if (worth[i] <= 0.0 || most[i] == 0) continue;
      worthy.push_back(
          {whole_um(blanks_[i].size.length_mm), whole_um(blanks_[i].size.width_mm), worth[i], -1, true});
      which.push_back(i);
    }
    Pattern pattern(blanks_.size(), 0);
    if (worthy.empty()) return pattern;
    const nesting::Cutting cutting = nesting::cut_unlimited(worthy, whole_um(sheet_.length_mm),
                                                            whole_um(sheet_.width_mm), whole_um(kerf_mm_));
    for (const nesting::Slab& slab : cutting.tree)
      if (slab.kind == nesting::Slab::Kind::piece) ++pattern[which[slab.blank]];
    return pattern;
  }

 private:
  const std::vector<BlankKind>& blanks_;
  Rectangle sheet_;
  double kerf_mm_;
};

}  // namespace

BlankShop::BlankShop(const Rectangle& usable, double kerf_mm, const std::vector<KindPieces>& kinds,
                     const std::vector<double>& per_month) {
  make_blanks(kinds, per_month);
  for (const BlankKind& blank : blanks_)
    if (!fits(usable, blank.size) && (misfits_.empty() || misfits_.back() != blank.kind))
      misfits_.push_back(blank.kind);
  find_holding(kinds);
  if (misfits_.empty()) plan(usable, kerf_mm);
}

void BlankShop::make_blanks(const std::vector<KindPieces>& kinds, const std::vector<double>& per_month) {
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    if (per_month[k] < 0.0) continue;
    const std::vector<PieceSize>& sizes = kinds[k].sizes;
    for (std::size_t from = 0; from < sizes.size(); from += sizes_to_a_blank) {
      BlankKind blank{k, {0.0, 0.0}, 0.0};
      for (std::size_t i = from; i < std::min(from + sizes_to_a_blank, sizes.size()); ++i) {
        const Rectangle box = lying_box(sizes[i]);
        blank.size = {std::max(blank.size.length_mm, marked(box.length_mm)),
                      std::max(blank.size.width_mm, marked(box.width_mm))};
        blank.per_month += per_month[k] * sizes[i].share;
      }
      blanks_.push_back(blank);
    }
  }
}

void BlankShop::find_holding(const std::vector<KindPieces>& kinds) {
  holding_.resize(kinds.size());
  for (std::size_t k = 0; k < kinds.size(); ++k)
    for (const PieceSize& size : kinds[k].sizes) {
      std::vector<std::size_t> found;
      for (std::size_t b = 0; b < blanks_.size(); ++b)
        if (holds(blanks_[b].size, size)) found.push_back(b);
      std::stable_sort(found.begin(), found.end(), [&](std::size_t a, std::size_t b) {
        return blanks_[a].size.area_mm2() < blanks_[b].size.area_mm2();
      });
      holding_[k].push_back(std::move(found));
    }
}

void BlankShop::plan(const Rectangle& usable, double kerf_mm) {
  const GuillotinePatterns best(blanks_, usable, kerf_mm);
  std::vector<int> demand;
  for (const BlankKind& blank : blanks_)
    demand.push_back(static_cast<int>(std::ceil(planned_months * blank.per_month)));
  patterns_ = fractional_plan(demand, best);
  for (PatternUse& use : patterns_) {
    use.sheets /= planned_months;
    bound_ += use.sheets;
  }
  for (std::size_t i = 0; i < blanks_.size(); ++i) {
    std::vector<double> worth(blanks_.size(), 0.0);
    worth[i] = 1.0;
    patterns_.push_back({best(worth, std::vector<int>(blanks_.size(), 1)), 0.0});
  }
}

const Pattern& BlankShop::pattern_for(std::size_t needed, const std::vector<int>& in_box) const {
  const Pattern* best = nullptr;
  double best_worth = -1.0;
  for (const PatternUse& use : patterns_) {
    if (use.pattern[needed] == 0) continue;
    double worth = 0.0;
    for (std::size_t i = 0; i < blanks_.size(); ++i) {
      const double wanted = std::max(1.0, std::ceil(months_in_box * blanks_[i].per_month)) - in_box[i];
      worth += std::min<double>(use.pattern[i], std::max(0.0, wanted)) * blanks_[i].size.area_mm2();
    }
    if (worth <= best_worth) continue;
    best = &use.pattern;
    best_worth = worth;
  }
  if (best == nullptr) throw std::logic_error("stock: no pattern holds the blank that is needed");
  return *best;
}

}  // namespace warmsheet::stock
