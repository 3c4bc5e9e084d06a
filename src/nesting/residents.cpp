// SPDX-License-Identifier: MIT
#include "nesting/residents.h"

namespace warmsheet::nesting {

void Residents::rule(std::size_t words) {
  words_ = words;
  for (auto* table : {&begun_x_, &open_x_, &begun_y_, &open_y_}) table->assign(slabs * words, 0);
  for (std::size_t slot = 0; slot < ids_.size(); ++slot) set_bits(slot, boxes_[slot], true);
}

void Residents::set_bits(std::size_t slot, const Extent& box, bool on) {
  const std::size_t word = slot / word_bits;
  const std::uint64_t bit = std::uint64_t{1} << (slot % word_bits);
  const auto put = [&](std::vector<std::uint64_t>& table, std::size_t from, std::size_t to) {
    for (std::size_t s = from; s < to; ++s) {
      std::uint64_t& cell = table[s * words_ + word];
      cell = on ? cell | bit : cell & ~bit;
    }
  };
  put(begun_x_, slab(box.x0 * per_mm_.x), slabs);
  put(open_x_, 0, slab(box.x1 * per_mm_.x) + 1);
  put(begun_y_, slab(box.y0 * per_mm_.y), slabs);
  put(open_y_, 0, slab(box.y1 * per_mm_.y) + 1);
}

void Residents::enter(std::uint32_t id, const Extent& box) {
  ids_.push_back(id);
  boxes_.push_back(box);
  if (ids_.size() > words_ * word_bits) {
    rule(2 * words_);
  } else {
    set_bits(ids_.size() - 1, box, true);
  }
}

void Residents::leave(std::uint32_t id) {
  const auto slot = static_cast<std::size_t>(std::find(ids_.begin(), ids_.end(), id) - ids_.begin());
  const std::size_t last = ids_.size() - 1;
  set_bits(slot, boxes_[slot], false);
  if (slot != last) {
    set_bits(last, boxes_[last], false);
    ids_[slot] = ids_[last];
    boxes_[slot] = boxes_[last];
    set_bits(slot, boxes_[slot], true);
  }
  ids_.pop_back();
  boxes_.pop_back();
}

}  // namespace warmsheet::nesting
