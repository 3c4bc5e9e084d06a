// SPDX-License-Identifier: MIT
#include "stock/straight_cuts.h"

#include <algorithm>

namespace warmsheet::stock {
namespace {

bool holds(const Rectangle& from, const Rectangle& box) {
  return box.length_mm <= from.length_mm && box.width_mm <= from.width_mm;
}

/// Largest and second largest area that stays, for choosing between cuts.
struct Worth {
  double largest = -1.0;
  double second = -1.0;
  friend auto operator<=>(const Worth&, const Worth&) = default;
};

class Choice {
 public:
  explicit Choice(const StraightRules& rules) : rules_(rules) {}

  void offer(const Rectangle& a, const Rectangle& b) {
    const bool keep_a = worth_keeping(a);
    const bool keep_b = worth_keeping(b);
    const double area_a = keep_a ? a.area_mm2() : 0.0;
    const double area_b = keep_b ? b.area_mm2() : 0.0;
    const Worth worth{std::max(area_a, area_b), std::min(area_a, area_b)};
    if (!(worth > best_)) return;
    best_ = worth;
    rests_.kept.clear();
    if (keep_a) rests_.kept.push_back(a);
    if (keep_b) rests_.kept.push_back(b);
  }

  [[nodiscard]] std::optional<Rests> made() const {
    if (best_.largest < 0.0) return std::nullopt;
    return rests_;
  }

 private:
  [[nodiscard]] bool worth_keeping(const Rectangle& r) const {
    return std::min(r.length_mm, r.width_mm) >= rules_.least_side_mm;
  }

  const StraightRules& rules_;
  Worth best_;
  Rests rests_;
};

}  // namespace

std::optional<Rests> cut_blank(const Rectangle& from, const std::vector<Rectangle>& boxes,
                               const StraightRules& rules) {
  Choice choice(rules);
  for (const Rectangle& box : boxes) {
    if (!holds(from, box)) continue;
    const double along = from.length_mm - box.length_mm - rules.kerf_mm;
    const double across = from.width_mm - box.width_mm - rules.kerf_mm;
    choice.offer({along, from.width_mm}, {box.length_mm, across});  // first cut across the whole width
    choice.offer({from.length_mm, across}, {along, box.width_mm});  // first cut along the whole length
  }
  return choice.made();
}

void Drawer::put(const Offcut& offcut) {
  const auto smaller = [](const Offcut& a, const Offcut& b) {
    return a.rectangle.area_mm2() < b.rectangle.area_mm2();
  };
  offcuts_.insert(std::upper_bound(offcuts_.begin(), offcuts_.end(), offcut, smaller), offcut);
  if (count() > most_) offcuts_.erase(offcuts_.begin());
}

bool Drawer::cut_from(const std::vector<Rectangle>& boxes) {
  for (std::size_t i = 0; i < offcuts_.size(); ++i) {
    const auto rests = cut_blank(offcuts_[i].rectangle, boxes, rules_);
    if (!rests) continue;
    const double since = offcuts_[i].since_month;
    offcuts_.erase(offcuts_.begin() + static_cast<std::ptrdiff_t>(i));
    for (const Rectangle& rest : rests->kept) put({rest, since});
    return true;
  }
  return false;
}

void Drawer::cut_new(const Rectangle& sheet, const std::vector<Rectangle>& boxes, double month) {
  const auto rests = cut_blank(sheet, boxes, rules_);
  for (const Rectangle& rest : rests.value().kept) put({rest, month});
}

void Drawer::drop_older_than(double month) {
  std::erase_if(offcuts_, [&](const Offcut& offcut) { return offcut.since_month < month; });
}

double Drawer::area_mm2() const {
  double area = 0.0;
  for (const Offcut& offcut : offcuts_) area += offcut.rectangle.area_mm2();
  return area;
}

}  // namespace warmsheet::stock
