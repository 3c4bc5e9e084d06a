// SPDX-License-Identifier: MIT
#include "stock/shelf.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <limits>

#include "nesting/random.h"

namespace warmsheet::stock {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

class Shelf {
 public:
  Shelf(int months, const ShelfStart& start, const ShelfRules& rules,
        const std::optional<OrderPolicy>& policy, std::uint64_t seed)
      : rules_(rules), policy_(policy), random_(seed), months_(static_cast<std::size_t>(months)) {
    if (start.on_hand > 0) lots_.push_back({start.on_hand, expiry(-start.age_months)});
    on_hand_ = start.on_hand;
    for (const ShelfStart::Coming& coming : start.on_order) await({coming.sheets, coming.month});
    next_review_ = policy && policy->review_months > 0.0 ? 0.0 : never;
    if (policy && policy->review_months <= 0.0) order(0.0);
  }

  ShelfRun run(const std::vector<double>& taken) {
    std::size_t next = 0;
    const double end = static_cast<double>(months_.size());
    while (true) {
      const double wanted = next < taken.size() ? taken[next] : never;
      const double moment = std::min({wanted, next_delivery(), next_expiry(), next_review_});
      if (!(moment < end)) break;
      pass_to(moment);
      // A delivery of the same moment comes before whatever needs it.
      if (moment == next_delivery())
        deliver();
      else if (moment == next_expiry())
        expire(moment);
      else if (moment == wanted)
        serve(taken[next++]);
      else
        review(moment);
    }
    pass_to(end);
    return {std::move(months_)};
  }

 private:
  struct Lot {
    int sheets;
    double expires;
  };
  struct Delivery {
    int sheets;
    double month;
  };

  [[nodiscard]] double expiry(double from) const {
    return rules_.life_months ? from + *rules_.life_months : never;
  }
  [[nodiscard]] double next_delivery() const {
    return deliveries_.empty() ? never : deliveries_.front().month;
  }
  [[nodiscard]] double next_expiry() const { return lots_.empty() ? never : lots_.front().expires; }
  [[nodiscard]] int position() const { return on_hand_ + on_order_ - waiting_; }
  ShelfMonth& month() { return months_[std::min(static_cast<std::size_t>(now_), months_.size() - 1)]; }

  /// Lets time pass; what lies on the shelf meanwhile is averaged month by month.
  void pass_to(double moment) {
    while (std::floor(now_) + 1.0 <= moment) {
      const double boundary = std::floor(now_) + 1.0;
      month().on_hand += on_hand_ * (boundary - now_);
      month().at_end = on_hand_ - waiting_;
      now_ = boundary;
      if (now_ >= static_cast<double>(months_.size())) return;
    }
    month().on_hand += on_hand_ * (moment - now_);
    now_ = moment;
  }

  void await(const Delivery& delivery) {
    const auto later = [](const Delivery& a, const Delivery& b) { return a.month < b.month; };
    deliveries_.insert(std::upper_bound(deliveries_.begin(), deliveries_.end(), delivery, later), delivery);
    on_order_ += delivery.sheets;
  }

  void deliver() {
    const Delivery delivery = deliveries_.front();
    deliveries_.pop_front();
    on_order_ -= delivery.sheets;
    ++month().deliveries;
    if (waiting_ > 0) ++month().late_deliveries;
    const int handed_out = std::min(waiting_, delivery.sheets);
    waiting_ -= handed_out;
    if (delivery.sheets == handed_out) return;
    lots_.push_back({delivery.sheets - handed_out, expiry(delivery.month)});
    on_hand_ += delivery.sheets - handed_out;
  }

  void serve(double moment) {
    ++month().asked;
    if (lots_.empty()) {
      ++waiting_;
    } else {
      ++month().served;
      --on_hand_;
      if (--lots_.front().sheets == 0) lots_.pop_front();
    }
    if (policy_ && policy_->review_months <= 0.0) order(moment);
  }

  void expire(double moment) {
    month().expired += lots_.front().sheets;
    on_hand_ -= lots_.front().sheets;
    lots_.pop_front();
    if (policy_ && policy_->review_months <= 0.0) order(moment);
  }

  void review(double moment) {
    order(moment);
    next_review_ = moment + policy_->review_months;
  }

  void order(double moment) {
    const int sheets = order_now(*policy_, position());
    if (sheets == 0) return;
    month().orders.push_back(sheets);
    await({sheets, moment + rules_.lead.draw(random_.unit())});
  }

  ShelfRules rules_;
  std::optional<OrderPolicy> policy_;
  nesting::Random random_;
  std::vector<ShelfMonth> months_;
  std::deque<Lot> lots_;
  std::deque<Delivery> deliveries_;
  int on_hand_ = 0;
  int on_order_ = 0;
  int waiting_ = 0;
  double now_ = 0.0;
  double next_review_ = never;
};

}  // namespace

double LeadTime::draw(double u) const {
  if (high <= low) return usual;
  const double mode = (usual - low) / (high - low);
  if (u < mode) return low + std::sqrt(u * (high - low) * (usual - low));
  return high - std::sqrt((1.0 - u) * (high - low) * (high - usual));
}

int order_now(const OrderPolicy& policy, int position) {
  if (position > policy.reorder_point) return 0;
  const int wanted = std::max(policy.order_up_to - position, 1);
  const int whole_packs = wanted / policy.pack * policy.pack;
  const int sheets = rounded_to_packs(whole_packs, policy.pack, policy.least);
  // One pack more if rounding down left the position where an order is due again.
  return position + sheets > policy.reorder_point
             ? sheets
             : rounded_to_packs(policy.reorder_point + 1 - position, policy.pack, policy.least);
}

ShelfRun keep_shelf(const std::vector<double>& taken, int months, const ShelfStart& start,
                    const ShelfRules& rules, const std::optional<OrderPolicy>& policy, std::uint64_t seed) {
  return Shelf(months, start, rules, policy, seed).run(taken);
}

Law demand_to_cover(const std::vector<std::vector<double>>& runs, int months, const LeadTime& lead,
                    double review_months, std::uint64_t seed) {
  std::vector<double> counts(1, 0.0);
  nesting::Random random(seed);
  // A time that could reach beyond the run is not begun: leaving out only those that do would leave out the
  // long ones.
  const double last_start = months - review_months - lead.high;
  for (const std::vector<double>& taken : runs) {
    const auto count_from = [&](double from) {
      if (from > last_start) return;
      const double until = from + review_months + lead.draw(random.unit());
      const auto first = std::upper_bound(taken.begin(), taken.end(), from);
      const auto last = std::upper_bound(first, taken.end(), until);
      const auto count = static_cast<std::size_t>(last - first);
      if (counts.size() <= count) counts.resize(count + 1, 0.0);
      counts[count] += 1.0;
    };
    if (review_months > 0.0)
      for (double from = 0.0; from <= last_start; from += review_months) count_from(from);
    else
      for (const double from : taken) count_from(from);
  }
  if (std::all_of(counts.begin(), counts.end(), [](double c) { return c == 0.0; })) counts.front() = 1.0;
  return Law(std::move(counts));
}

}  // namespace warmsheet::stock
