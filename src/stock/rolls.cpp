// SPDX-License-Identifier: MIT
#include "stock/rolls.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "base/calendar.h"
#include "base/dimension.h"
#include "stock/reorder.h"

namespace warmsheet::stock {
namespace {

/// A chance that nobody orders by.
constexpr double negligible = 1e-12;

int steps(double length_m) {
  return static_cast<int>(std::ceil(length_m / roll_step_m - 1e-9));
}

/// Law of the steps one piece of the kind needs; exactly 0 if none.
Law length_law(const Kind& kind, const KindPieces& pieces, const Roll& roll) {
  std::vector<double> probability(1, 0.0);
  for (const PieceSize& size : pieces.sizes) {
    int needed = kind.edging == roll.fixing ? steps(size.edge_mm / mm_per_m) : 0;
    for (const PieceSize::Strap& strap : size.straps)
      if (strap.fixing == roll.fixing) needed += steps(strap.length_m);
    const auto at = static_cast<std::size_t>(needed);
    if (probability.size() <= at) probability.resize(at + 1, 0.0);
    probability[at] += size.share;
  }
  return Law(std::move(probability));
}

/// How an orthosis comes to be made several times.
struct Remakes {
  double chance;  ///< each time
  double after;   ///< months
};

/// How many times an orthosis is made within `window` months, its first time there falling anywhere in the
/// first `from` of them: once, and again every `after` months with `chance`, as long as the window lasts.
Law times_within(const Remakes& remakes, double from, double window) {
  std::vector<double> count{0.0};
  double made_again = 1.0;  // chance of so many remakes or more, were there time
  for (int again = 0; made_again > negligible; ++again, made_again *= remakes.chance) {
    const double room_for_this = std::clamp((window - again * remakes.after) / from, 0.0, 1.0);
    const double room_for_next = std::clamp((window - (again + 1) * remakes.after) / from, 0.0, 1.0);
    count.push_back(made_again * (room_for_this - remakes.chance * room_for_next));
  }
  return Law(std::move(count));
}

/// The same length as many times.
Law repeated(const Law& length, const Law& times) {
  std::vector<double> p(
      static_cast<std::size_t>(length.largest()) * static_cast<std::size_t>(times.largest()) + 1, 0.0);
  for (int n = 0; n <= times.largest(); ++n)
    for (int l = 0; l <= length.largest(); ++l)
      p[static_cast<std::size_t>(n) * static_cast<std::size_t>(l)] +=
          times.probability(n) * length.probability(l);
  return Law(std::move(p));
}

/// Law of the steps that one kind needs in some months of a season. An orthosis that is made again needs its
/// straps again, when it is made again; a piece spoiled in cutting does not.
Law needed_by(const Kind& kind, const Caseload& caseload, const Law& length, double months, double season) {
  const Remakes remakes{kind.remake.si(), kind.remake_after.si() / month_s};
  // First seen in these months as remakes: of orthoses made as long before, once, twice ...
  const double earlier = remakes.chance > 0.0 ? std::min(remakes.after, months) : 0.0;
  const Law each = repeated(length, times_within(remakes, months, months));
  const Law each_earlier =
      earlier > 0.0 ? repeated(length, times_within(remakes, earlier, months)) : Law::exactly(0);
  if (kind.per_month) {
    const double rate = kind.per_month->si() * season;
    const double rate_earlier = rate * earlier * remakes.chance / (1.0 - remakes.chance);
    return sum(compound_poisson(rate * months, each), compound_poisson(rate_earlier, each_earlier));
  }
  const Law month = scaled(Law::of_history(caseload.history->counts.at(kind.column)), season);
  Law total = compound(over_months(month, months), each);
  if (earlier <= 0.0) return total;
  const Law before = over_months(month, earlier);
  for (double share = remakes.chance; share > 1e-6; share *= remakes.chance)
    total = sum(total, compound(thinned(before, share), each_earlier));
  return total;
}

Law needed_over(const Caseload& caseload, const Roll& roll, const std::vector<KindPieces>& kinds,
                double months, double season) {
  Law total = Law::exactly(0);
  if (months <= 0.0) return total;
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    const Law length = length_law(caseload.kinds[k], kinds[k], roll);
    if (length.largest() > 0)
      total = sum(total, needed_by(caseload.kinds[k], caseload, length, months, season));
  }
  return total;
}

/// Mean factor of the season over some months from the start of one of them.
double season_over(const std::array<double, months_in_year>& season, std::size_t first, double months) {
  double sum = 0.0;
  double left = months;
  for (std::size_t m = first; left > 0.0; ++m, left -= 1.0)
    sum += season[m % months_in_year] * std::min(left, 1.0);
  return months > 0.0 ? sum / months : 1.0;
}

/// Over a time that starts in any month of the year. `months_at(part)`, 0 <= part < 1: the time in equally
/// likely parts; each month meets another part, far from its neighbours'.
template <class MonthsAt>
Law needed_in_a_year(const Caseload& caseload, const Roll& roll, const std::vector<KindPieces>& kinds,
                     bool varies, MonthsAt months_at) {
  constexpr std::size_t stride = 5;  // has no divisor in common with twelve
  if (!varies && caseload.season_strength.si() == 0.0)
    return needed_over(caseload, roll, kinds, months_at(0.5), 1.0);
  Law law = Law::exactly(0);
  for (std::size_t start = 0; start < months_in_year; ++start) {
    const double months =
        months_at((static_cast<double>(stride * start % months_in_year) + 0.5) / months_in_year);
    const Law here = needed_over(caseload, roll, kinds, months, season_over(caseload.season, start, months));
    law = mixed(law, here, 1.0 / static_cast<double>(start + 1));
  }
  return law;
}

Law to_cover(const Caseload& caseload, const Roll& roll, const std::vector<KindPieces>& kinds) {
  const Supply& supply = roll.supply;
  const LeadTime lead{supply.lead_time.low_si() / month_s, supply.lead_time.si() / month_s,
                      supply.lead_time.high_si() / month_s};
  const double review = supply.review ? supply.review->si() / month_s : 0.0;
  return needed_in_a_year(caseload, roll, kinds, supply.lead_time.has_range(),
                          [&](double part) { return review + lead.draw(part); });
}

Summary summary_of(const Law& law) {
  return {law.mean() * roll_step_m, law.quantile(0.05) * roll_step_m, law.quantile(0.95) * roll_step_m};
}

int reorder_steps(const Law& cover, const Supply& supply, int quantity) {
  if (supply.promise == Promise::cycle) return cover.quantile(supply.service.si());
  return std::max(0, reorder_point_for_fill(cover, quantity, supply.service.si()));
}

}  // namespace

RollStudy study_roll(const Caseload& caseload, const Roll& roll, const std::vector<KindPieces>& kinds) {
  RollStudy done;
  const double price_per_m = roll.price.si();
  const Law month = needed_in_a_year(caseload, roll, kinds, false, [](double) { return 1.0; });
  done.metres = summary_of(month);
  done.used = done.metres.mean > 0.0;
  if (!done.used) return done;
  const Law cover = to_cover(caseload, roll, kinds);
  done.cover_mean_m = cover.mean() * roll_step_m;
  const LotTerms terms{.demand = months_in_year * done.metres.mean / roll.length.si(),
                       .order_cost = roll.supply.order_cost.si(),
                       .holding_share = roll.supply.holding.si(),
                       .breaks = {{1, price_per_m * roll.length.si()}},
                       .least = static_cast<int>(roll.supply.least_order.si())};
  done.lot = best_lot(terms);
  const int quantity = steps(done.lot.quantity * roll.length.si());
  const int r = reorder_steps(cover, roll.supply, quantity);
  done.reorder_m = r * roll_step_m;
  done.order_up_to_m = done.reorder_m + done.lot.quantity * roll.length.si();
  done.cycle_service = cover.at_most(r);
  done.fill_rate = continuous_fill(cover, r, quantity);
  if (roll.on_hand.si() <= done.reorder_m)
    done.to_order = rounded_to_packs(
        static_cast<int>(std::ceil((done.order_up_to_m - roll.on_hand.si()) / roll.length.si())), 1,
        terms.least);
  // What lies there on average: half an order, and what is left when it comes.
  const double on_hand_m = 0.5 * done.lot.quantity * roll.length.si() + done.reorder_m - done.cover_mean_m;
  done.cost = (done.lot.cost.goods + done.lot.cost.ordering +
               std::max(on_hand_m, 0.0) * price_per_m * terms.holding_share) /
              months_in_year;
  return done;
}

}  // namespace warmsheet::stock
