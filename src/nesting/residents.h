// SPDX-License-Identifier: MIT
// Which items of a bin may touch a box, answered with four table look-ups: the bin is ruled into slabs both
// ways, and each slab keeps one bit for every item that begins at or before it, and one for every item that
// ends at or after it.
#pragma once

#include <bit>
#include <cstdint>
#include <vector>

#include "nesting/plane.h"

namespace warmsheet::nesting {

class Residents {
 public:
  Residents(double length_mm, double height_mm) : per_mm_{slabs / length_mm, slabs / height_mm} { rule(1); }

  void enter(std::uint32_t id, const Extent& box);
  void leave(std::uint32_t id);

  /// Calls `visit(id)` for every item whose box may meet this one, until it returns false.
  template <typename Visit>
  void meet(const Extent& box, const Visit& visit) const {
    const std::uint64_t* x_begun = &begun_x_[slab(box.x1 * per_mm_.x) * words_];
    const std::uint64_t* x_open = &open_x_[slab(box.x0 * per_mm_.x) * words_];
    const std::uint64_t* y_begun = &begun_y_[slab(box.y1 * per_mm_.y) * words_];
    const std::uint64_t* y_open = &open_y_[slab(box.y0 * per_mm_.y) * words_];
    for (std::size_t w = 0; w < words_; ++w) {
      std::uint64_t bits = x_begun[w] & x_open[w] & y_begun[w] & y_open[w];
      while (bits != 0) {
        const auto bit = static_cast<std::size_t>(std::countr_zero(bits));
        if (!visit(ids_[w * word_bits + bit])) return;
        bits &= bits - 1;
      }
    }
  }

 private:
  static constexpr std::size_t slabs = 128;
  static constexpr std::size_t word_bits = 64;

  static std::size_t slab(double at) {
    return static_cast<std::size_t>(
        static_cast<std::int32_t>(std::clamp(at, 0.0, static_cast<double>(slabs - 1))));
  }
  void rule(std::size_t words);
  void set_bits(std::size_t slot, const Extent& box, bool on);

  Vec per_mm_;
  std::size_t words_ = 0;
  std::vector<std::uint64_t> begun_x_, open_x_, begun_y_, open_y_;
  std::vector<std::uint32_t> ids_;
  std::vector<Extent> boxes_;
};

}  // namespace warmsheet::nesting
