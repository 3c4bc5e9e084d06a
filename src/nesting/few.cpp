// SPDX-License-Identifier: MIT
#include "nesting/few.h"

#include <algorithm>
#include <numeric>

#include "nesting/filler.h"

namespace warmsheet::nesting {
namespace {

constexpr int most_looks = 3000;            // for touching positions: a tenth of a second at most
constexpr std::size_t places_a_stance = 2;  // the farthest left, and one beside it

class FewSearch {
 public:
  FewSearch(const Task& task, const Shapes& shapes, const BinUse& use, const std::vector<std::size_t>& copies,
            double length_mm)
      : task_(task),
        filler_(task, shapes),
        bin_(filler_.open(use)),
        copies_(copies),
        margin_mm_(task.stock[use.stock].bin.margin_mm),
        best_mm_(length_mm) {
    largest_first();
    spots_.resize(copies.size());
  }

  std::optional<std::vector<Spot>> run() {
    place(0, 0.0);
    return best_;
  }

 private:
  void largest_first() {
    order_.resize(copies_.size());
    std::iota(order_.begin(), order_.end(), std::size_t{0});
    std::stable_sort(order_.begin(), order_.end(),
                     [this](std::size_t a, std::size_t b) { return kind(a).bulk() > kind(b).bulk(); });
  }

  [[nodiscard]] const Kind& kind(std::size_t i) const { return task_.kinds[task_.copies[copies_[i]].piece]; }

  void place(unsigned laid, double length_mm) {
    if (laid == (1U << copies_.size()) - 1U) {
      best_mm_ = length_mm;
      best_ = spots_;
      return;
    }
    std::vector<std::size_t> tried;  // pieces: copies of one are alike
    for (const std::size_t i : order_) {
      const std::size_t piece = task_.copies[copies_[i]].piece;
      if ((laid >> i & 1U) != 0 || std::find(tried.begin(), tried.end(), piece) != tried.end()) continue;
      tried.push_back(piece);
      for (const std::size_t stance : kind(i).stances) lay(laid, i, stance, length_mm);
    }
  }

  void lay(unsigned laid, std::size_t i, std::size_t stance, double length_mm) {
    if (++looks_ > most_looks) return;
    constexpr double clearly_mm = 1e-7;
    for (const Try& t : filler_.places(bin_, stance, best_mm_ - margin_mm_ - clearly_mm, places_a_stance)) {
      if (t.right + margin_mm_ >= best_mm_ - clearly_mm) continue;  // the best may be shorter by now
      spots_[i] = {stance, 0, t.at};
      bin_.laid.push_back(spots_[i]);
      place(laid | 1U << i, std::max(length_mm, t.right + margin_mm_));
      bin_.laid.pop_back();
    }
  }

  const Task& task_;
  Filler filler_;
  OpenBin bin_;
  const std::vector<std::size_t>& copies_;
  double margin_mm_;
  double best_mm_;
  std::vector<std::size_t> order_;
  std::vector<Spot> spots_;
  std::optional<std::vector<Spot>> best_;
  int looks_ = 0;
};

}  // namespace

std::optional<std::vector<Spot>> shortest_of_few(const Task& task, const Shapes& shapes, const BinUse& use,
                                                 const std::vector<std::size_t>& copies, double length_mm) {
  return FewSearch(task, shapes, use, copies, length_mm).run();
}

void close_gaps(const Task& task, const Shapes& shapes, const BinUse& use,
                const std::vector<std::size_t>& copies, std::vector<Spot>& spots) {
  constexpr int most_rounds = 4;
  constexpr double clearly_mm = 1e-7;
  const Filler filler(task, shapes);
  std::vector<std::size_t> order(copies.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  bool moved = true;
  for (int round = 0; round < most_rounds && moved; ++round) {
    moved = false;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return box_of(shapes, spots[a]).x1 < box_of(shapes, spots[b]).x1;
    });
    for (const std::size_t i : order) {
      OpenBin bin = filler.open(use);
      for (std::size_t k = 0; k < spots.size(); ++k) {
        if (k != i) bin.laid.push_back(spots[k]);
      }
      const double right = box_of(shapes, spots[i]).x1 - clearly_mm;
      // In its stance if that was on the grid, else in the one it leans from.
      const std::vector<Try> places = filler.places(bin, spots[i].stance, right, 1);
      if (places.empty()) continue;
      spots[i] = {spots[i].stance, spots[i].bin, places.front().at, 0.0};
      moved = true;
    }
  }
}

}  // namespace warmsheet::nesting
