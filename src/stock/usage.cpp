// SPDX-License-Identifier: MIT
#include "stock/usage.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <limits>
#include <span>

#include "nesting/random.h"

namespace warmsheet::stock {
namespace {

/// Tried on months of wrist orthoses nested together: with 12 angles and one order most of them take a sheet
/// more than with these, which a finer grid, more angles or more orders hardly better, at a cost in
/// proportion (tests/bench/stock_lines.cpp).
constexpr double wanted_cell_mm = 5.0;
constexpr int angles_tried = 20;
static_assert(angles_tried % 4 == 0, "a sheet is a rectangle: a quarter turn must be among them");
/// Orders in which a batch is tried: the largest first, then shuffled.
constexpr int orders_tried = 3;

constexpr std::uint64_t golden = 0x9e3779b97f4a7c15ULL;

std::uint64_t mixed(std::uint64_t a, std::uint64_t b) {
  std::uint64_t z = a + golden * (b + 1);
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31);
}

}  // namespace

std::optional<Grid::Spot> SpotCache::find(Grid& grid, std::uint64_t grid_hash, std::size_t shape,
                                          const Silhouette& silhouette, int least_end) {
  if (silhouette.cells > grid.free_cells()) return std::nullopt;
  const std::uint64_t key = mixed(grid_hash, shape);
  entries_.resize(places);
  Entry& entry = entries_[key % places];
  if (entry.key != key) entry = {key, grid.find(silhouette, least_end)};
  return entry.spot;
}

/// What both ways of cutting share: the months' account.
class Account {
 public:
  explicit Account(int months) { usage_.months.resize(static_cast<std::size_t>(months)); }

  [[nodiscard]] int months() const { return static_cast<int>(usage_.months.size()); }
  MonthUse& at(double month) {
    const int whole = std::clamp(static_cast<int>(std::floor(month)), 0, months() - 1);
    return usage_.months[static_cast<std::size_t>(whole)];
  }
  void take_sheet(double month) {
    usage_.taken.push_back(month);
    ++at(month).sheets;
  }
  void practise(const Practice& practice, double sheet_mm2) {
    const double nothing_mm2 = -1e-9 * sheet_mm2;  // what rounding leaves of a sheet that is used up
    double left_mm2 = 0.0;
    for (const double month : practice.moments) {
      at(month).practice_mm2 += practice.each_mm2;
      for (left_mm2 -= practice.each_mm2; left_mm2 < nothing_mm2; left_mm2 += sheet_mm2) {
        usage_.taken.push_back(month);
        ++at(month).practice;
      }
    }
  }
  void cut(double month, double area_mm2) {
    ++at(month).pieces;
    at(month).cut_mm2 += area_mm2;
  }
  void close_month(int month, double kept_mm2, int offcuts) {
    usage_.months[static_cast<std::size_t>(month)].kept_mm2 = kept_mm2;
    usage_.months[static_cast<std::size_t>(month)].offcuts = offcuts;
  }
  Usage finish() {
    std::sort(usage_.taken.begin(), usage_.taken.end());
    return std::move(usage_);
  }

 private:
  Usage usage_;
};

class StraightRun {
 public:
  StraightRun(const CuttingBench& bench, Account& account)
      : bench_(bench),
        account_(account),
        drawer_({bench.rules_.spacing_mm, bench.rules_.least_side_mm}, bench.rules_.most_offcuts) {}

  void start_with(const std::vector<Rectangle>& offcuts) {
    // Those of this bench lie inside the margin of their sheet already; of others nobody knows.
    const double edge_mm = 2.0 * bench_.rules_.margin_mm;
    for (const Rectangle& r : offcuts)
      if (const auto [width_mm, length_mm] = std::minmax({r.length_mm - edge_mm, r.width_mm - edge_mm});
          width_mm > 0.0)
        drawer_.put({{length_mm, width_mm}, 0.0});
  }
  void cut(const Arrival& arrival, double month) {
    const PieceSize& piece = *bench_.shape(arrival).piece;
    account_.cut(month, piece.area_mm2);
    if (drawer_.cut_from(piece.boxes)) return;
    account_.take_sheet(month);
    drawer_.cut_new(bench_.usable_, piece.boxes, month);
  }
  void cut_batch(std::span<const CuttingBench::Job> jobs) {
    for (const CuttingBench::Job& job : jobs) cut(job.arrival, job.moment);
  }
  void tidy() {}  // nothing is ever left but straight offcuts
  void end_month(int month) {
    drawer_.drop_older_than(month + 1 - bench_.rules_.most_age_months);
    account_.close_month(month, drawer_.area_mm2(), drawer_.count());
  }

 private:
  const CuttingBench& bench_;
  Account& account_;
  Drawer drawer_;
};

class ShapeRun {
 public:
  ShapeRun(const CuttingBench& bench, Account& account, SpotCache& cache)
      : bench_(bench), account_(account), cache_(cache) {}

  void start_with(const std::vector<Rectangle>& offcuts) {
    for (const Rectangle& r : offcuts) {
      Rectangle lying{std::max(r.length_mm, r.width_mm), std::min(r.length_mm, r.width_mm)};
      open(lying, 0.0);
    }
    tidy();
  }

  /// All at once: of a few orders the one that opens fewest sheets, then leaves most of the last one clean.
  void cut_batch(std::span<const CuttingBench::Job> jobs) {
    std::vector<CuttingBench::Job> order(jobs.begin(), jobs.end());
    const int orders = order.size() > 1 ? orders_tried : 1;
    const std::size_t had = bins_.size();
    const std::vector<Bin> before = orders > 1 ? bins_ : std::vector<Bin>{};
    // The same batch is tried in the same orders whatever else is simulated.
    nesting::Random random(order.size());
    std::vector<Bin> best;
    for (int i = 0; i < orders; ++i) {
      if (i > 0) bins_ = before;
      for (const CuttingBench::Job& job : order) {
        if (i > 0 && !better(bins_, best)) break;  // sheets only fill, and grow more
        lay(bench_.shape(job.arrival), job.moment);
      }
      if (i == 0 || better(bins_, best)) best = std::move(bins_);
      shuffle(order, random);
    }
    const std::size_t opened = best.size() - had;
    bins_ = std::move(best);
    for (const CuttingBench::Job& job : jobs)
      account_.cut(job.moment, bench_.shape(job.arrival).piece->area_mm2);
    for (std::size_t i = 0; i < opened; ++i) account_.take_sheet(jobs.front().moment);
  }

  /// Straightens or sorts out what is left, as rules say.
  void tidy() {
    for (Bin& bin : bins_)
      if (!bench_.rules_.keep_shapes && bin.grid.used() > 0) straighten(bin);
    std::erase_if(bins_, [&](const Bin& bin) { return !worth_keeping(bin.grid); });
    std::stable_sort(bins_.begin(), bins_.end(),
                     [](const Bin& a, const Bin& b) { return a.grid.free_cells() < b.grid.free_cells(); });
    const auto most = static_cast<std::size_t>(bench_.rules_.most_offcuts);
    if (bins_.size() > most) bins_.erase(bins_.begin(), bins_.end() - static_cast<std::ptrdiff_t>(most));
  }

  void end_month(int month) {
    std::erase_if(bins_,
                  [&](const Bin& bin) { return bin.since < month + 1 - bench_.rules_.most_age_months; });
    double kept = 0.0;
    for (const Bin& bin : bins_) kept += bin.grid.free_cells() * bench_.cell_mm_ * bench_.cell_mm_;
    account_.close_month(month, kept, static_cast<int>(bins_.size()));
  }

 private:
  struct Bin {
    Grid grid;
    std::uint64_t hash;
    double since;
    std::vector<int> least_end;  ///< of a spot, by shape: a grid that fills has none earlier than before
  };

  [[nodiscard]] Bin fresh(Grid grid, double since) const {
    const std::uint64_t hash =
        mixed(static_cast<std::uint64_t>(grid.length()), static_cast<std::uint64_t>(grid.width()));
    return {std::move(grid), hash, since, std::vector<int>(bench_.shape_count_, 0)};
  }

  Bin& open(const Rectangle& r, double month) {
    bins_.push_back(fresh(
        grid_for(r.length_mm, r.width_mm, bench_.cell_mm_, bench_.rules_.spacing_mm, bench_.rules_.margin_mm),
        month));
    return bins_.back();
  }

  void lay(const CuttingBench::Shape& shape, double month) {
    for (Bin& bin : bins_)
      if (place(bin, shape)) return;
    place(open(bench_.sheet_, month), shape);
  }

  static bool better(const std::vector<Bin>& a, const std::vector<Bin>& b) {
    if (a.size() != b.size()) return a.size() < b.size();
    return !a.empty() && a.back().grid.used() < b.back().grid.used();
  }

  static void shuffle(std::vector<CuttingBench::Job>& jobs, nesting::Random& random) {
    for (std::size_t i = jobs.size(); i-- > 1;) std::swap(jobs[i], jobs[random.below(i + 1)]);
  }

  bool place(Bin& bin, const CuttingBench::Shape& shape) {
    int& least_end = bin.least_end[shape.number];
    if (least_end > bin.grid.length()) return false;
    const auto spot = cache_.find(bin.grid, bin.hash, shape.number, shape.silhouette, least_end);
    least_end = spot ? spot->end : bin.grid.length() + 1;
    if (!spot) return false;
    bin.grid.put(shape.silhouette.turns[spot->turn], *spot);
    bin.hash = mixed(bin.hash, shape.number + 1U);
    return true;
  }

  void straighten(Bin& bin) const {
    bin = fresh(Grid(bin.grid.length() - bin.grid.used(), bin.grid.width()), bin.since);
  }

  [[nodiscard]] bool worth_keeping(const Grid& grid) const {
    const double cell = bench_.cell_mm_;
    if (bench_.rules_.keep_shapes) return grid.free_cells() * cell * cell >= bench_.least_piece_mm2_;
    return std::min(grid.length(), grid.width()) * cell >= bench_.rules_.least_side_mm;
  }

  const CuttingBench& bench_;
  Account& account_;
  SpotCache& cache_;
  std::vector<Bin> bins_;
};

/// Orthoses from a box of blanks.
class BlankRun {
 public:
  BlankRun(const CuttingBench& bench, Account& account)
      : bench_(bench),
        shop_(*bench.blanks_),
        account_(account),
        in_box_(shop_.blanks().size(), 0),
        cut_in_(shop_.blanks().size()) {}

  void cut(const Arrival& arrival, double month) {
    account_.cut(month, bench_.shape(arrival).piece->area_mm2);
    const std::vector<std::size_t>& holding = shop_.holding(arrival.kind, arrival.size);
    for (const std::size_t blank : holding)
      if (in_box_[blank] > 0) {
        take(blank);
        return;
      }
    const std::size_t needed = holding.front();
    account_.take_sheet(month);
    const Pattern& pattern = shop_.pattern_for(needed, in_box_);
    for (std::size_t i = 0; i < in_box_.size(); ++i) {
      in_box_[i] += pattern[i];
      cut_in_[i].insert(cut_in_[i].end(), static_cast<std::size_t>(pattern[i]), month);
    }
    take(needed);
  }
  void cut_batch(std::span<const CuttingBench::Job> jobs) {
    for (const CuttingBench::Job& job : jobs) cut(job.arrival, job.moment);
  }
  void tidy() {}  // the rest of a sheet that is cut up is thrown away
  void end_month(int month) {
    const double oldest = month + 1 - bench_.rules_.most_age_months;
    double area = 0.0;
    int count = 0;
    for (std::size_t i = 0; i < in_box_.size(); ++i)
      while (in_box_[i] > 0 && cut_in_[i].front() < oldest) take(i);
    for (std::size_t i = 0; i < in_box_.size(); ++i) {
      area += in_box_[i] * shop_.blanks()[i].size.area_mm2();
      count += in_box_[i];
    }
    account_.close_month(month, area, count);
  }

 private:
  /// The oldest one.
  void take(std::size_t blank) {
    --in_box_[blank];
    cut_in_[blank].pop_front();
  }

  const CuttingBench& bench_;
  const BlankShop& shop_;
  Account& account_;
  std::vector<int> in_box_;
  std::vector<std::deque<double>> cut_in_;  ///< months in which the blanks of the box were cut, oldest first
};

CuttingBench::CuttingBench(Rectangle sheet_mm, CuttingRules rules, const std::vector<KindPieces>& kinds,
                           const std::vector<double>& per_month)
    : sheet_{std::max(sheet_mm.length_mm, sheet_mm.width_mm),
             std::min(sheet_mm.length_mm, sheet_mm.width_mm)},
      usable_{sheet_.length_mm - 2.0 * rules.margin_mm, sheet_.width_mm - 2.0 * rules.margin_mm},
      rules_(rules),
      cell_mm_(std::max(wanted_cell_mm, sheet_.width_mm / most_cells_across)),
      least_piece_mm2_(std::numeric_limits<double>::infinity()),
      shapes_(kinds.size()) {
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    if (per_month[k] < 0.0) continue;
    for (const PieceSize& size : kinds[k].sizes) {
      Shape shape{shape_count_++, &size, {}};
      if (on_grid())
        shape.silhouette = silhouette(size.shape, cell_mm_, rules_.spacing_mm, angles_tried, rules_.may_flip);
      least_piece_mm2_ = std::min(least_piece_mm2_, size.area_mm2);
      if (!fits_empty(shape) && (misfits_.empty() || misfits_.back() != k)) misfits_.push_back(k);
      shapes_[k].push_back(std::move(shape));
    }
  }
  if (rules_.method != Method::blanks) return;
  blanks_.emplace(usable_, rules_.spacing_mm, kinds, per_month);
  misfits_ = blanks_->misfits();
}

bool CuttingBench::fits_empty(const Shape& shape) const {
  if (!on_grid())
    return cut_blank(usable_, shape.piece->boxes, {rules_.spacing_mm, rules_.least_side_mm}).has_value();
  return grid_for(sheet_.length_mm, sheet_.width_mm, cell_mm_, rules_.spacing_mm, rules_.margin_mm)
      .find(shape.silhouette)
      .has_value();
}

const CuttingBench::Shape& CuttingBench::shape(const Arrival& arrival) const {
  return shapes_[arrival.kind][arrival.size];
}

std::vector<CuttingBench::Job> CuttingBench::jobs(const std::vector<Arrival>& arrivals, int months) const {
  std::vector<Job> jobs;
  const double last = std::nextafter(static_cast<double>(months), 0.0);
  for (const Arrival& arrival : arrivals) {
    if (shapes_[arrival.kind].empty()) continue;
    double moment = arrival.month;
    // Just before its end, so that a batch at the end of a month belongs to that month.
    if (rules_.method == Method::batched)
      moment = std::nextafter((std::floor(moment / rules_.batch_months) + 1.0) * rules_.batch_months, 0.0);
    jobs.push_back({std::min(moment, last), arrival});
  }
  const auto earlier_then_larger = [&](const Job& a, const Job& b) {
    return std::pair(a.moment, -shape(a.arrival).piece->area_mm2) <
           std::pair(b.moment, -shape(b.arrival).piece->area_mm2);
  };
  std::stable_sort(jobs.begin(), jobs.end(), earlier_then_larger);
  return jobs;
}

template <class Run>
void CuttingBench::walk(Run& run, const std::vector<Job>& jobs, int months) {
  int month = 0;
  for (std::size_t i = 0; i < jobs.size();) {
    while (month + 1 <= jobs[i].moment) run.end_month(month++);
    std::size_t next = i + 1;
    while (next < jobs.size() && jobs[next].moment == jobs[i].moment) ++next;
    run.cut_batch({jobs.begin() + static_cast<std::ptrdiff_t>(i), next - i});
    run.tidy();
    i = next;
  }
  while (month < months) run.end_month(month++);
}

Usage CuttingBench::cut(const std::vector<Arrival>& arrivals, int months, const Practice& practice,
                        const std::vector<Rectangle>& offcuts_mm, SpotCache& cache) const {
  Account account(months);
  account.practise(practice, sheet_mm2());
  if (blanks_) {
    BlankRun run(*this, account);
    walk(run, jobs(arrivals, months), months);
  } else if (!on_grid()) {
    StraightRun run(*this, account);
    run.start_with(offcuts_mm);
    walk(run, jobs(arrivals, months), months);
  } else {
    ShapeRun run(*this, account, cache);
    run.start_with(offcuts_mm);
    walk(run, jobs(arrivals, months), months);
  }
  return account.finish();
}

}  // namespace warmsheet::stock
