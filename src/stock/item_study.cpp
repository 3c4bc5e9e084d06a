// SPDX-License-Identifier: MIT
#include "stock/item_study.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "nesting/random.h"

namespace warmsheet::stock {
namespace {

constexpr double month_s = 365.2425 * 86400.0 / 12.0;
constexpr double mm2_per_m2 = 1e6;
/// Of a batch of sheets, no more than this share may be expected to grow too old.
constexpr double accepted_expiry = 0.02;

double months(const Figure& duration) {
  return duration.si() / month_s;
}

/// The months of a run that count, by whole years.
using Months = std::vector<MonthUse>;
Months settled(const Usage& usage) {
  return {usage.months.begin() + settling_months, usage.months.end()};
}

double kept_before(const Usage& usage) {
  return usage.months[settling_months - 1].kept_mm2;
}

/// Share of the sheets opened, and of the offcuts used up, that did not become orthosis.
double waste_of(const Months& use, double kept_before_mm2, double sheet_mm2) {
  double cut = 0.0;
  double opened = kept_before_mm2 - use.back().kept_mm2;
  for (const MonthUse& month : use) {
    cut += month.cut_mm2;
    opened += month.sheets * sheet_mm2;
  }
  return opened > 0.0 ? std::clamp(1.0 - cut / opened, 0.0, 1.0) : 0.0;
}

std::vector<double> yearly_waste(const BenchRuns& bench) {
  std::vector<double> waste;
  for (const Usage& usage : bench.stretches) {
    const Months all = settled(usage);
    double kept = kept_before(usage);
    for (std::size_t from = 0; from + months_in_year <= all.size(); from += months_in_year) {
      const Months year(all.begin() + static_cast<std::ptrdiff_t>(from),
                        all.begin() + static_cast<std::ptrdiff_t>(from + months_in_year));
      waste.push_back(waste_of(year, kept, bench.bench.sheet_mm2()));
      kept = year.back().kept_mm2;
    }
  }
  return waste;
}

std::vector<double> monthly(const BenchRuns& bench, const std::function<double(const MonthUse&)>& value) {
  std::vector<double> values;
  for (const Usage& usage : bench.stretches)
    for (const MonthUse& month : settled(usage)) values.push_back(value(month));
  return values;
}

std::vector<double> by_stretch(const BenchRuns& bench, const std::function<double(const Usage&)>& value) {
  std::vector<double> values;
  for (const Usage& usage : bench.stretches) values.push_back(value(usage));
  return values;
}

double sheets_in(const MonthUse& month) {
  return month.sheets + month.practice;
}

double mean_sheets(const Usage& usage) {
  double sheets = 0.0;
  const Months use = settled(usage);
  for (const MonthUse& month : use) sheets += sheets_in(month);
  return sheets / static_cast<double>(use.size());
}

double waste_of_stretch(const Usage& usage, double sheet_mm2) {
  return waste_of(settled(usage), kept_before(usage), sheet_mm2);
}

/// Difference of the first values of b and of a, pair by pair.
Estimate difference(const std::vector<double>& b, const std::vector<double>& a) {
  std::vector<double> differences;
  for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i) differences.push_back(b[i] - a[i]);
  return estimate(differences);
}

class ItemJudge {
 public:
  ItemJudge(const Caseload& caseload, const library::Library& library, std::size_t index,
            const std::vector<const BenchRuns*>& benches, std::uint64_t seed)
      : caseload_(caseload),
        library_(library),
        item_(caseload.items[index]),
        benches_(benches),
        bench_(*benches.front()),
        seed_(seed) {
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
    done_.pieces = summarise(monthly(bench_, [](const MonthUse& m) { return m.pieces; }));
    done_.sheets = summarise(monthly(bench_, sheets_in));
    done_.practice = summarise(monthly(bench_, [](const MonthUse& m) { return m.practice; }));
    done_.offcuts = summarise(monthly(bench_, [](const MonthUse& m) { return m.offcuts; }));
    done_.waste = summarise(yearly_waste(bench_));
    const std::vector<double> sheets = monthly(bench_, sheets_in);
    for (std::size_t month = 0; month < months_in_year; ++month) {
      std::vector<double> of_month;
      for (std::size_t i = month; i < sheets.size(); i += months_in_year) of_month.push_back(sheets[i]);
      done_.sheets_by_month.push_back(summarise(std::move(of_month)));
    }
    const double sheet_mm2 = bench_.bench.sheet_mm2();
    done_.waste_by_stretch =
        by_stretch(bench_, [&](const Usage& u) { return waste_of_stretch(u, sheet_mm2); });
    done_.sheets_by_stretch =
        by_stretch(bench_, [&](const Usage& u) { return mean_sheets(u) * sheet_mm2 / mm2_per_m2; });
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
    terms.most = most_in_an_order();
    done_.room_for = terms.most;
    if (terms.demand > 0.0)
      done_.lot = best_lot(terms);
    else
      done_.lot = {rounded_to_packs(1, terms.pack, terms.least), {}, false};
  }

  /// Space and shelf life leave room for this much above the reorder point.
  [[nodiscard]] std::optional<int> most_in_an_order() const {
    const int reserve = first_guess(1);
    std::optional<int> most;
    if (item_.supply.storage) most = std::max(1, static_cast<int>(item_.supply.storage->si()) - reserve);
    if (shelf_.life_months && done_.sheets.mean > 0.0) {
      // A batch joins behind the sheets that are there: together they must be used within a life.
      const Law in_life = over_months(month_law(), *shelf_.life_months);
      const int by_age = std::max(1, largest_batch(in_life, accepted_expiry) - reserve);
      most = std::min(most.value_or(by_age), by_age);
    }
    return most;
  }

  [[nodiscard]] Law month_law() const {
    std::vector<int> counts;
    for (const double sheets : monthly(bench_, sheets_in)) counts.push_back(static_cast<int>(sheets));
    return Law::of_history(counts);
  }

  [[nodiscard]] int first_guess(int quantity) const {
    const double service = item_.supply.service.si();
    return item_.supply.promise == Promise::fill ? reorder_point_for_fill(done_.cover, quantity, service)
                                                 : done_.cover.quantile(service);
  }

  struct Kept {
    Estimate cycle;
    Estimate fill;
    std::vector<ShelfRun> runs;
  };

  [[nodiscard]] OrderPolicy policy_at(int reorder_point) const {
    return {reorder_point, reorder_point + done_.lot.quantity, review_, done_.lot_terms.pack,
            done_.lot_terms.least};
  }

  [[nodiscard]] Kept keep(const OrderPolicy& policy) const {
    Kept kept;
    std::vector<double> cycle;
    std::vector<double> fill;
    for (std::size_t i = 0; i < bench_.stretches.size(); ++i) {
      ShelfRun run = keep_shelf(bench_.stretches[i].taken, settling_months + stretch_months,
                                {std::max(policy.order_up_to, 0), {}}, shelf_, policy,
                                nesting::Random(seed_).fork(i).next());
      int asked = 0;
      int served = 0;
      for (std::size_t m = settling_months; m < run.months.size(); ++m) {
        asked += run.months[m].asked;
        served += run.months[m].served;
      }
      if (run.cycles > 0) cycle.push_back(1.0 - static_cast<double>(run.cycles_short) / run.cycles);
      if (asked > 0) fill.push_back(static_cast<double>(served) / asked);
      kept.runs.push_back(std::move(run));
    }
    if (!cycle.empty()) kept.cycle = estimate(cycle);
    if (!fill.empty()) kept.fill = estimate(fill);
    return kept;
  }

  [[nodiscard]] double promised(const Kept& kept) const {
    return item_.supply.promise == Promise::fill ? kept.fill.mean : kept.cycle.mean;
  }

  /// The smallest reorder point at which the simulated shelf keeps its promise, found from the one that the
  /// law of the demand to cover gives. They differ where several sheets leave at once, or where the shelf is
  /// looked at only now and then.
  void choose_reorder_point() {
    constexpr int most_steps = 200;
    const double target = item_.supply.service.si();
    int r = first_guess(done_.lot.quantity);
    const auto keeps = [&](int at) { return promised(keep(policy_at(at))) >= target; };
    if (done_.sheets.mean <= 0.0) {
      r = 0;
    } else if (keeps(r)) {
      for (int step = 0; step < most_steps && r > 0 && keeps(r - 1); ++step) --r;
    } else {
      for (int step = 0; step < most_steps && !keeps(r); ++step) ++r;
    }
    if (item_.supply.storage) {
      const int room = static_cast<int>(item_.supply.storage->si()) - done_.lot_terms.pack;
      done_.promise_kept = r <= room;
      r = std::min(r, room);
    }
    done_.policy = policy_at(std::max(r, 0));
    if (item_.supply.storage)
      done_.policy.order_up_to =
          std::min(done_.policy.order_up_to, static_cast<int>(item_.supply.storage->si()));
  }

  [[nodiscard]] double price_in_use() const {
    return done_.lot.cost.goods > 0.0 ? done_.lot.cost.goods / done_.lot_terms.demand
                                      : item_.prices.front().price.si();
  }

  /// Goods, orders and holding of some months.
  [[nodiscard]] double cost_of(const std::vector<ShelfMonth>& all, std::size_t from,
                               std::size_t count) const {
    double cost = 0.0;
    for (std::size_t m = from; m < from + count; ++m) {
      cost += all[m].ordered * price_in_use() + all[m].orders * done_.lot_terms.order_cost;
      cost += all[m].on_hand * price_in_use() * done_.lot_terms.holding_share / months_in_year;
    }
    return cost;
  }

  void describe_running() {
    const Kept kept = keep(done_.policy);
    done_.cycle_service = kept.cycle;
    done_.fill_rate = kept.fill;
    std::vector<double> on_hand;
    std::vector<double> orders;
    std::vector<double> expired;
    std::vector<double> cost;
    for (const ShelfRun& run : kept.runs) {
      for (std::size_t m = settling_months; m < run.months.size(); ++m)
        on_hand.push_back(run.months[m].on_hand);
      for (std::size_t from = settling_months; from + months_in_year <= run.months.size();
           from += months_in_year) {
        double orders_in_year = 0.0;
        double expired_in_year = 0.0;
        for (std::size_t m = from; m < from + months_in_year; ++m) {
          orders_in_year += run.months[m].orders;
          expired_in_year += run.months[m].expired;
        }
        orders.push_back(orders_in_year);
        expired.push_back(expired_in_year);
        cost.push_back(cost_of(run.months, from, months_in_year) / months_in_year);
      }
      done_.cost_by_stretch.push_back(cost_of(run.months, settling_months, stretch_months) / stretch_months);
    }
    done_.on_hand = summarise(std::move(on_hand));
    done_.orders_a_year = summarise(std::move(orders));
    done_.expired_a_year = summarise(std::move(expired));
    done_.cost = summarise(std::move(cost));
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
        ordered_in_year += month.ordered;
        expired_in_year += month.expired;
      }
      ordered.push_back(ordered_in_year);
      expired.push_back(expired_in_year);
      served.push_back(asked_in_year > 0.0 ? served_in_year / asked_in_year : 1.0);
      cost.push_back(cost_of(run.months, 0, months_in_year));
    }
    for (std::vector<double>& of_month : at_end) path.at_end.push_back(summarise(std::move(of_month)));
    path.ordered = summarise(std::move(ordered));
    path.expired = summarise(std::move(expired));
    path.served = summarise(std::move(served));
    path.cost = summarise(std::move(cost));
    return path;
  }

  [[nodiscard]] SizeStudy size_study(const BenchRuns& bench) const {
    SizeStudy size{
        .key = bench.size, .possible = bench.bench.misfits().empty(), .misfits = bench.bench.misfits()};
    if (!size.possible) return size;
    const double price = library_.stock_item(bench.size).price.si();
    size.sheets = summarise(monthly(bench, sheets_in));
    size.waste = summarise(yearly_waste(bench));
    size.cost = summarise(monthly(bench, [&](const MonthUse& m) { return price * sheets_in(m); }));
    const auto waste = [](const BenchRuns& b) {
      return by_stretch(b, [&](const Usage& u) { return waste_of_stretch(u, b.bench.sheet_mm2()); });
    };
    const auto cost = [&](const BenchRuns& b) {
      const double each = library_.stock_item(b.size).price.si();
      return by_stretch(b, [&](const Usage& u) { return each * mean_sheets(u); });
    };
    if (!done_.possible) return size;
    size.more_waste = difference(waste(bench), waste(bench_));
    size.more_cost = difference(cost(bench), cost(bench_));
    return size;
  }

  const Caseload& caseload_;
  const library::Library& library_;
  const Item& item_;
  const std::vector<const BenchRuns*>& benches_;
  const BenchRuns& bench_;
  std::uint64_t seed_;
  ShelfRules shelf_{};
  double review_ = 0.0;
  ItemStudy done_;
};

}  // namespace

ItemStudy judge_item(const Caseload& caseload, const library::Library& library, std::size_t index,
                     const std::vector<const BenchRuns*>& benches, std::uint64_t seed) {
  return ItemJudge(caseload, library, index, benches, seed).judge();
}

}  // namespace warmsheet::stock
