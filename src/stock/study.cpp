// SPDX-License-Identifier: MIT
#include "stock/study.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/calendar.h"
#include "base/dimension.h"
#include "base/text.h"
#include "nesting/random.h"
#include "stock/item_study.h"

namespace warmsheet::stock {
namespace {

CuttingRules rules_of(const Caseload& caseload, const Item& item, const library::Library& library) {
  const Cutting& cutting = caseload.cutting;
  CuttingRules rules;
  rules.method = cutting.method;
  rules.batch_months = cutting.every.si() / month_s;
  rules.keep_shapes = cutting.keep_shapes;
  rules.spacing_mm = cutting.spacing.si() * mm_per_m;
  rules.margin_mm = cutting.margin.si() * mm_per_m;
  rules.least_side_mm = cutting.least_side.si() * mm_per_m;
  rules.most_offcuts = static_cast<int>(cutting.most_offcuts.si());
  if (item.supply.shelf_life) rules.most_age_months = item.supply.shelf_life->si() / month_s;
  rules.may_flip = !library.sheet(library.stock_item(item.key).sheet).face_side;
  return rules;
}

Rectangle sheet_of(const library::StockItem& stock) {
  return {stock.length.si() * mm_per_m, stock.width.si() * mm_per_m};
}

double level_of(const Range& mean, DemandEnd end) {
  if (mean.value <= 0.0 || end == DemandEnd::middle) return 1.0;
  return (end == DemandEnd::low ? mean.low : mean.high) / mean.value;
}

KindDemand demand_of(const Kind& kind, const KindPieces& pieces, const Caseload& caseload, DemandEnd end) {
  KindDemand demand;
  if (kind.per_month)
    demand.per_month = kind.per_month->si();
  else
    demand.history = caseload.history->counts.at(kind.column);
  for (const PieceSize& size : pieces.sizes) demand.size_shares.push_back(size.share);
  demand.level = level_of(monthly_mean(kind, caseload), end);
  demand.scrap_chance = kind.scrap.si();
  demand.remake_chance = kind.remake.si();
  demand.remake_after_months = kind.remake_after.si() / month_s;
  return demand;
}

class Runner {
 public:
  Runner(const Caseload& caseload, const library::Library& library, const StudyOptions& options)
      : caseload_(caseload), library_(library), options_(options) {
    constexpr int fewest_stretches = 2;  // one alone says nothing about chance
    done_.stretches = std::max(fewest_stretches, (options.months + stretch_months - 1) / stretch_months);
    done_.months = done_.stretches * stretch_months;
    done_.months_basis = options.months_basis;
  }

  Study run() {
    if (options_.kinds != nullptr)
      done_.kinds = *options_.kinds;
    else
      draw_kinds();
    prepare_demand();
    prepare_benches();
    const bool whole = !done_.stopped && cut_everything() && judge_items();
    done_.stopped = !whole;
    return std::move(done_);
  }

 private:
  bool each(std::size_t count, double from, double to,
            const std::function<void(std::size_t, std::size_t)>& work) {
    Workers workers = options_.workers;
    if (options_.workers.progress)
      workers.progress = [&, from, to](double share) {
        options_.workers.progress(from + share * (to - from));
      };
    return for_each_index(count, workers, work);
  }

  void draw_kinds() {
    std::vector<std::optional<KindPieces>> pieces(caseload_.kinds.size());
    done_.stopped = !each(pieces.size(), 0.0, 0.1, [&](std::size_t k, std::size_t) {
      pieces[k] = pieces_of(caseload_.kinds[k], library_, nesting::Random(options_.seed).fork(k).next());
    });
    if (done_.stopped) return;
    for (std::optional<KindPieces>& made : pieces) done_.kinds.push_back(std::move(*made));
  }

  void prepare_demand() {
    if (done_.stopped) return;
    demand_.season = caseload_.season;
    demand_.growth_a_year = caseload_.growth.si();
    demand_.first_month = caseload_.first_month;
    demand_.seed = options_.seed;
    for (std::size_t k = 0; k < caseload_.kinds.size(); ++k)
      demand_.kinds.push_back(demand_of(caseload_.kinds[k], done_.kinds[k], caseload_, options_.demand));
  }

  void prepare_benches() {
    if (done_.stopped) return;
    for (const Item& item : caseload_.items) {
      std::vector<double> per_month;
      for (std::size_t k = 0; k < caseload_.kinds.size(); ++k)
        per_month.push_back(caseload_.kinds[k].item == item.key ? demand_.pieces_per_month(k) : -1.0);
      const CuttingRules rules = rules_of(caseload_, item, library_);
      const std::size_t sizes = options_.sizes ? item.sizes.size() : 1;
      for (std::size_t s = 0; s < sizes; ++s)
        benches_.push_back(
            {&item,
             item.sizes[s],
             s == 0,
             CuttingBench(sheet_of(library_.stock_item(item.sizes[s])), rules, done_.kinds, per_month),
             {},
             {}});
    }
  }

  /// Other sizes are tried on fewer stretches, the coming year only on the size in use.
  [[nodiscard]] std::size_t stretches_for(const BenchRuns& bench) const {
    constexpr std::size_t stretches_to_compare_sizes = 12;
    const auto all = static_cast<std::size_t>(done_.stretches);
    return bench.in_use ? all : std::min(all, stretches_to_compare_sizes);
  }

  bool cut_everything() {
    struct Task {
      std::size_t bench;
      std::size_t run;
      bool projection;
    };
    std::vector<Task> tasks;
    for (BenchRuns& bench : benches_) {
      if (!bench.bench.misfits().empty()) continue;
      bench.stretches.resize(stretches_for(bench));
      if (bench.in_use && options_.projections) bench.projections.resize(projection_runs);
    }
    const std::size_t most =
        std::max(static_cast<std::size_t>(done_.stretches), options_.projections ? projection_runs : 0);
    std::vector<std::vector<Arrival>> stretches(static_cast<std::size_t>(done_.stretches));
    std::vector<std::vector<Arrival>> years(options_.projections ? projection_runs : 0);
    if (!each(stretches.size() + years.size(), 0.1, 0.2, [&](std::size_t i, std::size_t) {
          if (i < stretches.size())
            stretches[i] = arrivals(demand_, i, settling_months + stretch_months, false);
          else
            years[i - stretches.size()] = arrivals(demand_, first_projection_run + i, months_in_year, true);
        }))
      return false;
    // Neighbouring tasks are of different items, so that threads do not fill the same answers twice at the
    // start.
    for (std::size_t run = 0; run < most; ++run)
      for (std::size_t b = 0; b < benches_.size(); ++b) {
        if (run < benches_[b].stretches.size()) tasks.push_back({b, run, false});
        if (run < benches_[b].projections.size()) tasks.push_back({b, run, true});
      }
    std::vector<std::vector<SpotCache>> caches(
        static_cast<std::size_t>(std::max(1, options_.workers.threads)));
    for (std::vector<SpotCache>& of_thread : caches) of_thread.resize(benches_.size());
    return each(tasks.size(), 0.2, 0.9, [&](std::size_t i, std::size_t thread) {
      const Task& task = tasks[i];
      BenchRuns& bench = benches_[task.bench];
      SpotCache& cache = caches[thread][task.bench];
      if (task.projection)
        bench.projections[task.run] = bench.bench.cut(
            years[task.run], months_in_year, practice(bench, first_projection_run + task.run, months_in_year),
            kept_today(*bench.item), cache);
      else
        bench.stretches[task.run] =
            bench.bench.cut(stretches[task.run], settling_months + stretch_months,
                            practice(bench, task.run, settling_months + stretch_months), {}, cache);
    });
  }

  static std::vector<Rectangle> kept_today(const Item& item) {
    std::vector<Rectangle> kept;
    for (const Item::Kept& offcut : item.offcuts)
      kept.push_back({offcut.length.si() * mm_per_m, offcut.width.si() * mm_per_m});
    return kept;
  }

  /// Moments at which a sheet of the item's own size is practised on: Poisson, the same for every size and
  /// policy of an item.
  [[nodiscard]] Practice practice(const BenchRuns& bench, std::size_t run, int months) const {
    Practice practice{{}, sheet_of(library_.stock_item(bench.item->key)).area_mm2()};
    const double mean = bench.item->practice.si();
    if (mean <= 0.0) return practice;
    const auto item = static_cast<std::uint64_t>(bench.item - caseload_.items.data());
    nesting::Random random = nesting::Random(~options_.seed).fork(item).fork(run);
    for (double t = -std::log1p(-random.unit()) / mean; t < months; t -= std::log1p(-random.unit()) / mean)
      practice.moments.push_back(t);
    return practice;
  }

  bool judge_items() {
    std::vector<std::vector<const BenchRuns*>> by_item(caseload_.items.size());
    for (const BenchRuns& bench : benches_)
      by_item[static_cast<std::size_t>(bench.item - caseload_.items.data())].push_back(&bench);
    done_.items.resize(caseload_.items.size());
    return each(by_item.size(), 0.9, 1.0, [&](std::size_t i, std::size_t) {
      done_.items[i] =
          judge_item(caseload_, i, by_item[i], nesting::Random(options_.seed).fork(i + 1).next());
    });
  }

  const Caseload& caseload_;
  const library::Library& library_;
  const StudyOptions& options_;
  Study done_;
  Demand demand_;
  std::vector<BenchRuns> benches_;
};

void use_size(Item& item, const std::string& size, const library::Library& library) {
  const auto at = std::find(item.sizes.begin(), item.sizes.end(), size);
  std::rotate(item.sizes.begin(), at, at + 1);
  item.prices = {{1, item.size_prices.at(size)}};
  item.pack = library.stock_item(size).pack;
}

double sheet_m2(const library::StockItem& stock) {
  return stock.length.si() * stock.width.si();
}

/// Who practised on the one practises on the other: as large an area.
void pool_practice(Caseload& caseload, const std::string& gone, const std::string& stays,
                   const library::Library& library) {
  const auto of = [&](const std::string& key) {
    return std::find_if(caseload.items.begin(), caseload.items.end(),
                        [&](const Item& item) { return item.key == key; });
  };
  const Figure from = of(gone)->practice;
  Figure& to = of(stays)->practice;
  if (from.si() <= 0.0) return;
  const double factor = sheet_m2(library.stock_item(gone)) / sheet_m2(library.stock_item(stays));
  to = Figure::derived("practice sheets",
                       {to.si() + factor * from.si(), to.low_si() + factor * from.low_si(),
                        to.high_si() + factor * from.high_si()},
                       units::one(), "of both items, as large an area", {to, from});
}

void pool(Caseload& caseload, const std::string& gone, const std::string& stays,
          const library::Library& library) {
  pool_practice(caseload, gone, stays, library);
  for (Kind& kind : caseload.kinds)
    if (kind.item == gone) kind.item = stays;
  std::erase_if(caseload.items, [&](const Item& item) { return item.key == gone; });
}

}  // namespace

Study study(const Caseload& caseload, const library::Library& library, const StudyOptions& options) {
  return Runner(caseload, library, options).run();
}

Range monthly_mean(const Kind& kind, const Caseload& caseload) {
  if (kind.per_month) return kind.per_month->range_si();
  const std::vector<int>& counts = caseload.history->counts.at(kind.column);
  const auto n = static_cast<double>(counts.size());
  const double mean = std::accumulate(counts.begin(), counts.end(), 0.0) / n;
  double squares = 0.0;
  for (const int count : counts) squares += (count - mean) * (count - mean);
  // One month says nothing about how months differ; a Poisson law would have its mean for variance.
  const double variance = n > 1.0 ? squares / (n - 1.0) : mean;
  constexpr double ninety_percent_z = 1.6448536269514722;
  const double half = ninety_percent_z * std::sqrt(variance / n);
  return {mean, std::max(0.0, mean - half), mean + half};
}

bool demand_is_uncertain(const Caseload& caseload) {
  return std::any_of(caseload.kinds.begin(), caseload.kinds.end(), [&](const Kind& kind) {
    const Range mean = monthly_mean(kind, caseload);
    return mean.low < mean.high;
  });
}

Caseload with_variant(const Caseload& caseload, const Variant& variant, const library::Library& library) {
  Caseload changed = caseload;
  changed.cutting.method = variant.method.value_or(changed.cutting.method);
  changed.cutting.every = variant.every.value_or(changed.cutting.every);
  changed.cutting.keep_shapes = variant.keep_shapes.value_or(changed.cutting.keep_shapes);
  for (const auto& [gone, stays] : variant.pooled) pool(changed, gone, stays, library);
  for (Item& item : changed.items) {
    if (variant.review) item.supply.review = variant.review;
    item.supply.service = variant.service.value_or(item.supply.service);
    if (const auto size = variant.sizes.find(item.key); size != variant.sizes.end())
      use_size(item, size->second, library);
  }
  return changed;
}

const Variant& find_variant(const Caseload& caseload, std::string_view id) {
  std::vector<std::string> known;
  for (const Variant& variant : caseload.variants) {
    if (variant.id == id) return variant;
    known.push_back(variant.id);
  }
  throw Failure(Problem{Trouble::usage,
                        {},
                        fmt::format("there is no variant \"{}\"", clip(id, 40)),
                        meant_or_known(id, known)});
}

}  // namespace warmsheet::stock
