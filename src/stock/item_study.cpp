// SPDX-License-Identifier: MIT
#include "stock/item_study.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <utility>

#include "base/calendar.h"
#include "nesting/random.h"

namespace warmsheet::stock {
namespace {

/// A promise that is still not kept where so much of what is ordered grows too old is not worth more of it.
constexpr double expiry_without_service = 0.1;

double months(const Figure& duration) {
  return duration.si() / month_s;
}

/// The months of a run that count, by whole years.
using Months = std::vector<MonthUse>;
Months settled(const Usage& usage) {
  return {usage.months.begin() + settling_months, usage.months.end()};
}

std::vector<double> monthly(const BenchRuns& bench, const std::function<double(const MonthUse&)>& value) {
  std::vector<double> values;
  for (const Usage& usage : bench.stretches)
    for (const MonthUse& month : settled(usage)) values.push_back(value(month));
  return values;
}

double sheets_in(const MonthUse& month) {
  return month.sheets + month.practice;
}

double sheets_of(const Usage& usage) {
  double sheets = 0.0;
  for (const MonthUse& month : settled(usage)) sheets += sheets_in(month);
  return sheets;
}

/// A sum over each counted year: by stretch, then by start and year.
std::vector<std::vector<double>> yearly(const Trial& trial,
                                        const std::function<double(const ShelfMonth&)>& value) {
  std::vector<std::vector<double>> sums;
  for (const std::vector<ShelfRun>& stretch : trial.runs) {
    sums.emplace_back();
    for (const ShelfRun& run : stretch)
      for (std::size_t m = settling_months; m < run.months.size(); ++m) {
        if ((m - settling_months) % months_in_year == 0) sums.back().push_back(0.0);
        sums.back().back() += value(run.months[m]);
      }
  }
  return sums;
}

std::vector<double> flat(const std::vector<std::vector<double>>& lists) {
  std::vector<double> all;
  for (const std::vector<double>& list : lists) all.insert(all.end(), list.begin(), list.end());
  return all;
}

std::vector<double> on_hand_each_month(const Trial& trial) {
  std::vector<double> all;
  for (const std::vector<ShelfRun>& stretch : trial.runs)
    for (const ShelfRun& run : stretch)
      for (std::size_t m = settling_months; m < run.months.size(); ++m) all.push_back(run.months[m].on_hand);
  return all;
}

/// Difference of the first values of b and of a, pair by pair.
Estimate difference(const std::vector<double>& b, const std::vector<double>& a) {
  std::vector<double> differences;
  for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i) differences.push_back(b[i] - a[i]);
  return estimate(differences);
}

class ItemJudge {
 public:
  ItemJudge(const Caseload& caseload, std::size_t index, const std::vector<const BenchRuns*>& benches,
            std::uint64_t seed)
      : item_(caseload.items[index]), benches_(benches), bench_(*benches.front()), seed_(seed) {
    done_.item = index;
    shelf_.lead = {item_.supply.lead_time.low_si() / month_s, months(item_.supply.lead_time),
                   item_.supply.lead_time.high_si() / month_s};
    if (item_.supply.shelf_life) shelf_.life_months = months(*item_.supply.shelf_life);
    review_ = item_.supply.review ? months(*item_.supply.review) : 0.0;
  }

  ItemStudy judge() {
    done_.misfits = bench_.bench.misfits();
    done_.possible = done_.misfits.empty();
    if (const auto& shop = bench_.bench.blanks()) {
      done_.blanks = shop->blanks();
      done_.patterns = shop->patterns();
      done_.blanks_bound = shop->bound_per_month();
    }
    if (done_.possible) {
      describe_use();
      choose_lot();
      choose_reorder_point();
      describe_running();
      look_at_today();
    }
    for (const BenchRuns* bench : benches_) done_.sizes.push_back(size_study(*bench));
    return std::move(done_);
  }

 private:
  void describe_use() {
    done_.pieces_each_month = monthly(bench_, [](const MonthUse& m) { return m.pieces; });
    done_.sheets_each_month = monthly(bench_, sheets_in);
    done_.pieces = summarise(done_.pieces_each_month);
    done_.sheets = summarise(done_.sheets_each_month);
    done_.used = done_.sheets.mean > 0.0;
    done_.offcuts = summarise(monthly(bench_, [](const MonthUse& m) { return m.offcuts; }));
    done_.areas_by_year = areas_by_year(bench_.stretches, bench_.bench.sheet_mm2());
    done_.waste = summary_of_waste(done_.areas_by_year);
    for (std::size_t month = 0; month < months_in_year; ++month) {
      std::vector<double> of_month;
      for (std::size_t i = month; i < done_.sheets_each_month.size(); i += months_in_year)
        of_month.push_back(done_.sheets_each_month[i]);
      done_.sheets_by_month.push_back(summarise(std::move(of_month)));
    }
    std::vector<std::vector<double>> runs;
    for (const Usage& usage : bench_.stretches) runs.push_back(usage.taken);
    done_.cover = demand_to_cover(runs, settling_months + stretch_months, shelf_.lead, review_, seed_);
  }

  void choose_lot() {
    LotTerms& terms = done_.lot_terms;
    terms = {.demand = months_in_year * done_.sheets.mean,
             .order_cost = item_.supply.order_cost.si(),
             .holding_share = item_.supply.holding.si(),
             .breaks = {},
             .discount = item_.discount,
             .pack = static_cast<int>(item_.pack.si()),
             .least = static_cast<int>(item_.supply.least_order.si())};
    for (const PriceStep& step : item_.prices) terms.breaks.push_back({step.from, step.price.si()});
    if (!done_.used) return;
    int reserve = first_guess(1);
    if (item_.supply.storage) terms.most = std::max(1, room() - reserve);
    done_.lot = best_lot(terms);
    if (!shelf_.life_months || surely_used_in_time(reserve, done_.lot.quantity)) return;
    terms.aging = Aging{over_months(month_law(), shelf_.lead.mean() + *shelf_.life_months), reserve};
    done_.lot = best_lot(terms);
    // A fill rate needs less reserve where more is ordered at once.
    terms.aging->reorder_point = first_guess(done_.lot.quantity);
    done_.lot = best_lot(terms);
  }

  [[nodiscard]] int room() const { return static_cast<int>(item_.supply.storage->si()); }
  [[nodiscard]] int smallest_order() const {
    return rounded_to_packs(1, done_.lot_terms.pack, done_.lot_terms.least);
  }

  /// Whatever the law of the demand until then is, which takes long to work out where a life is long: then no
  /// sheet of the order is likely to see its end.
  [[nodiscard]] bool surely_used_in_time(int reserve, int quantity) const {
    constexpr double negligible = 0.001;
    const Law month = month_law();
    const double months = shelf_.lead.mean() + *shelf_.life_months;
    const double whole = std::floor(months);
    const Law rest = thinned(month, months - whole);
    const double mean = whole * month.mean() + rest.mean();
    const double variance = whole * month.variance() + rest.variance();
    return reserve + quantity < mean && most_chance_up_to(mean, variance, reserve + quantity) <= negligible;
  }

  [[nodiscard]] Law month_law() const {
    std::vector<int> counts;
    for (const double sheets : done_.sheets_each_month) counts.push_back(static_cast<int>(sheets));
    return Law::of_history(counts);
  }

  [[nodiscard]] int first_guess(int quantity) const {
    const double service = item_.supply.service.si();
    return item_.supply.promise == Promise::fill
               ? std::max(0, reorder_point_for_fill(done_.cover, quantity, service))
               : done_.cover.quantile(service);
  }

  [[nodiscard]] OrderPolicy policy_at(int reorder_point) const {
    return {reorder_point, reorder_point + done_.lot.quantity, review_, done_.lot_terms.pack,
            done_.lot_terms.least};
  }

  [[nodiscard]] Trial keep(const OrderPolicy& policy) const {
    return try_policy(bench_.stretches, shelf_, policy, seed_);
  }

  /// Where so little is asked for that nothing was ever delivered, what was served speaks for the cycles.
  [[nodiscard]] bool keeps_promise(const Trial& kept) const {
    const bool cycles = item_.supply.promise == Promise::cycle && kept.cycle;
    const std::optional<Estimate>& service = cycles ? kept.cycle : kept.fill;
    return !service || service->mean >= item_.supply.service.si();
  }

  /// The smallest reorder point at which the simulated shelf keeps its promise, found from the one that the
  /// law of the demand to cover gives. They differ where several sheets leave at once, or where the shelf is
  /// looked at only now and then. Steps are doubled, then halved: on the same orthoses a higher reorder point
  /// serves no worse.
  void choose_reorder_point() {
    if (!done_.used) {
      done_.policy = {-1, -1, review_, done_.lot_terms.pack, done_.lot_terms.least};  // never orders
      return;
    }
    const auto keeps = [&](int r) { return keeps_promise(keep(policy_at(r))); };
    int above = first_guess(done_.lot.quantity);  // keeps it
    int below = above;                            // does not, or is below zero
    if (keeps(above)) {
      int step = 1;
      for (--below; below >= 0 && keeps(below); step *= 2) above = std::exchange(below, below - step);
    } else {
      above = search_upwards(below);
    }
    below = std::max(below, -1);
    while (above - below > 1) {
      const int middle = below + (above - below) / 2;
      (keeps(middle) ? above : below) = middle;
    }
    fit_to_room(above);
  }

  /// First of ever larger steps that keeps the promise; `below` follows. Gives up where what is ordered grows
  /// too old instead.
  int search_upwards(int& below) {
    const int start = below;
    for (int step = 1;; step *= 2) {
      const int r = below + step;
      const Trial kept = keep(policy_at(r));
      if (keeps_promise(kept)) return r;
      if (kept.expired_share > expiry_without_service) {
        done_.promised = Promised::too_old;
        below = start - 1;
        return start;
      }
      below = r;
    }
  }

  void fit_to_room(int r) {
    if (item_.supply.storage && r > room() - smallest_order()) {
      done_.promised = Promised::no_room;
      r = std::max(0, room() - smallest_order());
    }
    done_.policy = policy_at(r);
    if (item_.supply.storage) done_.policy.order_up_to = std::min(done_.policy.order_up_to, room());
  }

  [[nodiscard]] double price_in_use() const {
    return done_.used ? order_value(done_.lot_terms, done_.lot.quantity) / done_.lot.quantity
                      : item_.prices.front().price.si();
  }

  /// Goods, orders and holding of a month.
  [[nodiscard]] double cost_of(const ShelfMonth& month) const {
    double cost = month.on_hand * price_in_use() * done_.lot_terms.holding_share / months_in_year;
    for (const int sheets : month.orders)
      cost += order_value(done_.lot_terms, sheets) + done_.lot_terms.order_cost;
    return cost;
  }

  void describe_running() {
    const Trial kept = keep(done_.policy);
    done_.cycle_service = kept.cycle;
    done_.fill_rate = kept.fill;
    done_.on_hand = summarise(on_hand_each_month(kept));
    done_.orders_a_year = summarise(
        flat(yearly(kept, [](const ShelfMonth& m) { return static_cast<double>(m.orders.size()); })));
    done_.expired_a_year = summarise(flat(yearly(kept, [](const ShelfMonth& m) { return m.expired; })));
    done_.cost_by_year =
        yearly(kept, [&](const ShelfMonth& month) { return cost_of(month) / months_in_year; });
    done_.cost = summarise(flat(done_.cost_by_year));
  }

  void look_at_today() {
    ShelfStart start{static_cast<int>(item_.on_hand.si()), {}};
    done_.position = start.on_hand;
    for (const Item::Coming& coming : item_.on_order) {
      start.on_order.push_back({static_cast<int>(coming.sheets.si()), months(coming.due)});
      done_.position += start.on_order.back().sheets;
    }
    done_.to_order = order_now(done_.policy, done_.position);
    if (bench_.projections.empty()) return;
    done_.with_policy = path(start, done_.policy);
    done_.without_orders = path(start, std::nullopt);
  }

  [[nodiscard]] Path path(const ShelfStart& start, const std::optional<OrderPolicy>& policy) const {
    std::vector<std::vector<double>> at_end(months_in_year);
    Path path;
    path.any_short.assign(months_in_year, 0.0);
    std::vector<double> ordered;
    std::vector<double> expired;
    std::vector<double> served;
    std::vector<double> cost;
    for (std::size_t i = 0; i < bench_.projections.size(); ++i) {
      const ShelfRun run = keep_shelf(bench_.projections[i].taken, months_in_year, start, shelf_, policy,
                                      nesting::Random(seed_).fork(first_projection_run + i).next());
      double asked_in_year = 0.0;
      double served_in_year = 0.0;
      double ordered_in_year = 0.0;
      double expired_in_year = 0.0;
      for (std::size_t m = 0; m < months_in_year; ++m) {
        const ShelfMonth& month = run.months[m];
        at_end[m].push_back(month.at_end);
        if (month.served < month.asked || month.at_end < 0)
          path.any_short[m] += 1.0 / static_cast<double>(bench_.projections.size());
        asked_in_year += month.asked;
        served_in_year += month.served;
        ordered_in_year += month.ordered();
        expired_in_year += month.expired;
      }
      ordered.push_back(ordered_in_year);
      expired.push_back(expired_in_year);
      served.push_back(asked_in_year > 0.0 ? served_in_year / asked_in_year : 1.0);
      cost.push_back(std::accumulate(run.months.begin(), run.months.end(), 0.0,
                                     [&](double sum, const ShelfMonth& m) { return sum + cost_of(m); }));
    }
    for (std::vector<double>& of_month : at_end) path.at_end.push_back(summarise(std::move(of_month)));
    path.ordered = summarise(std::move(ordered));
    path.expired = summarise(std::move(expired));
    path.served = summarise(std::move(served));
    path.cost = summarise(std::move(cost));
    return path;
  }

  static std::vector<double> waste_by_stretch(const std::vector<Areas>& years) {
    std::vector<double> waste;
    for (const Areas& stretch : by_stretch(years)) waste.push_back(stretch.waste());
    return waste;
  }

  /// Of one sheet: of the size in use what its usual orders cost each, of another one its only price.
  [[nodiscard]] double price_of(const BenchRuns& bench) const {
    const bool in_use = &bench == &bench_ && done_.possible;
    return in_use ? price_in_use() : item_.size_prices.at(bench.size).si();
  }

  /// Of the sheets alone, a month.
  [[nodiscard]] std::vector<double> cost_by_stretch(const BenchRuns& bench) const {
    const double each = price_of(bench);
    std::vector<double> cost;
    for (const Usage& usage : bench.stretches) cost.push_back(each * sheets_of(usage) / stretch_months);
    return cost;
  }

  [[nodiscard]] SizeStudy size_study(const BenchRuns& bench) const {
    SizeStudy size{.key = bench.size, .possible = bench.bench.misfits().empty()};
    if (!size.possible) return size;
    const double price = price_of(bench);
    size.sheets = summarise(monthly(bench, sheets_in));
    const std::vector<Areas> areas = areas_by_year(bench.stretches, bench.bench.sheet_mm2());
    size.waste = summary_of_waste(areas);
    size.cost = summarise(monthly(bench, [&](const MonthUse& m) { return price * sheets_in(m); }));
    if (!done_.possible) return size;
    size.more_waste = difference(waste_by_stretch(areas), waste_by_stretch(done_.areas_by_year));
    size.more_cost = difference(cost_by_stretch(bench), cost_by_stretch(bench_));
    return size;
  }

  const Item& item_;
  const std::vector<const BenchRuns*>& benches_;
  const BenchRuns& bench_;
  std::uint64_t seed_;
  ShelfRules shelf_{};
  double review_ = 0.0;
  ItemStudy done_;
};

}  // namespace

ItemStudy judge_item(const Caseload& caseload, std::size_t index,
                     const std::vector<const BenchRuns*>& benches, std::uint64_t seed) {
  return ItemJudge(caseload, index, benches, seed).judge();
}

}  // namespace warmsheet::stock
