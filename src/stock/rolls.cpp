// SPDX-License-Identifier: MIT
#include "stock/rolls.h"

#include <algorithm>
#include <cmath>

namespace warmsheet::stock {
namespace {

constexpr double month_s = 365.2425 * 86400.0 / 12.0;
constexpr double mm_per_m = 1e3;
constexpr int months_in_year = 12;
/// The lead time's spread in equally likely parts, each stood for by its middle.
constexpr int lead_parts = 9;

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

/// An orthosis that is made again needs its straps again; a piece spoiled in cutting does not.
Law with_remakes(const Law& one, double remake) {
  constexpr double negligible = 1e-12;
  std::vector<double> count{0.0};
  for (double chance = 1.0 - remake; chance > negligible; chance *= remake) count.push_back(chance);
  return compound(Law(std::move(count)), one);
}

Law needed_over(const Caseload& caseload, const Roll& roll, const std::vector<KindPieces>& kinds,
                double months) {
  Law total = Law::exactly(0);
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    const Kind& kind = caseload.kinds[k];
    const Law one = length_law(kind, kinds[k], roll);
    if (one.largest() == 0) continue;
    const Law each = with_remakes(one, kind.remake.si());
    if (kind.per_month)
      total = sum(total, compound_poisson(kind.per_month->si() * months, each));
    else
      total =
          sum(total,
              compound(over_months(Law::of_history(caseload.history->counts.at(kind.column)), months), each));
  }
  return total;
}

Law to_cover(const Caseload& caseload, const Roll& roll, const std::vector<KindPieces>& kinds) {
  const Supply& supply = roll.supply;
  const LeadTime lead{supply.lead_time.low_si() / month_s, supply.lead_time.si() / month_s,
                      supply.lead_time.high_si() / month_s};
  const double review = supply.review ? supply.review->si() / month_s : 0.0;
  Law law = Law::exactly(0);
  const int parts = supply.lead_time.has_range() ? lead_parts : 1;
  for (int part = 0; part < parts; ++part) {
    const double months = review + lead.draw((part + 0.5) / parts);
    law = mixed(law, needed_over(caseload, roll, kinds, months), 1.0 / (part + 1));
  }
  return law;
}

Summary summary_of(const Law& law) {
  return {law.mean() * roll_step_m, law.quantile(0.05) * roll_step_m, law.quantile(0.95) * roll_step_m};
}

/// Share served at once when `quantity` steps are ordered at `r`.
double fill_at(const Law& cover, int r, int quantity) {
  return 1.0 - (cover.shortfall(r) - cover.shortfall(r + quantity)) / quantity;
}

int reorder_steps(const Law& cover, const Supply& supply, int quantity) {
  if (supply.promise == Promise::cycle) return cover.quantile(supply.service.si());
  int r = 0;
  while (r < cover.largest() && fill_at(cover, r, quantity) < supply.service.si()) ++r;
  return r;
}

}  // namespace

RollStudy study_roll(const Caseload& caseload, const Roll& roll, double price_per_m,
                     const std::vector<KindPieces>& kinds) {
  RollStudy done;
  const Law month = needed_over(caseload, roll, kinds, 1.0);
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
  done.fill_rate = fill_at(cover, r, quantity);
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
