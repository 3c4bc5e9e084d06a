// SPDX-License-Identifier: MIT
// Whole studies of a caseload: 60 orthoses of 8 kinds on 5 stock items, and a hospital group of 2000 a month;
// and what the grid of the simulation costs in sheets against a full search. Wall time on two threads, and of
// the processor. Aims: 1000 months in 1.5 s, 10 000 in 10 s, the group's 200 months in 60 s, on two free
// cores.
#include <fmt/format.h>

#include <sys/resource.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include "bench/lines.h"
#include "nesting/nest.h"
#include "stock/study.h"
#include "stock/usage.h"

namespace {

using namespace warmsheet;

/// The example's 8 kinds and 5 items, every mean multiplied.
stock::Caseload caseload(const library::Library& library, double factor) {
  stock::Caseload load =
      stock::read_caseload(std::string(WARMSHEET_SOURCE_DIR) + "/examples/clinic/caseload.toml", library);
  for (stock::Kind& kind : load.kinds) {
    const double mean = factor * stock::monthly_mean(kind, load).value;
    kind.column.clear();
    kind.per_month = Figure::entered("per_month", Range::exactly(mean), units::one());
  }
  return load;
}

/// A month's wrist orthoses of the example, nested together: sheets by the grid that the simulation uses, and
/// by the nesting room's full search of the same outlines.
void measure_grid() {
  const library::Library library = library::load({});
  const stock::Caseload load = caseload(library, 1.0);
  std::vector<stock::KindPieces> kinds;
  std::vector<double> per_month;
  for (const stock::Kind& kind : load.kinds) {
    const bool wrist = kind.item == "elastic-clear/3.2-solid";
    kinds.push_back(stock::pieces_of(kind, library, 1));
    per_month.push_back(wrist ? 1.0 : -1.0);
  }
  stock::CuttingRules rules{.method = stock::Method::batched,
                            .spacing_mm = 3.0,
                            .margin_mm = 3.0,
                            .least_side_mm = 75.0,
                            .most_offcuts = 12};
  const stock::CuttingBench bench({600.0, 450.0}, rules, kinds, per_month);
  for (const int count : {6, 12, 18, 24, 30}) {
    std::vector<stock::Arrival> arrivals;
    nesting::Order order;
    order.spacing_mm = rules.spacing_mm;
    order.margin_mm = rules.margin_mm;
    order.stock = {
        {"sheet", outline::Polygon::make({{0, 0}, {600, 0}, {600, 450}, {0, 450}}, {}, {}), -1, 1.0}};
    for (int i = 0; i < count; ++i) {
      const std::uint32_t kind = i % 4 == 3 ? 1 : 0;
      const auto size = static_cast<std::uint32_t>(i % 6);
      arrivals.push_back({0.5, kind, size});
      order.pieces.push_back(
          {"piece", kinds[kind].sizes[size].shape, 1, {.free = true, .angles_deg = {}}, false});
    }
    stock::SpotCache cache;
    const int grid = bench.cut(arrivals, 1, {}, {}, cache).months[0].sheets;
    const nesting::Layout layout = nesting::nest(order, {.passes = 2000, .threads = 2});
    fmt::print("{{\"case\":\"grid\",\"pieces\":{},\"grid_sheets\":{},\"search_sheets\":{},\"bound\":{}}}\n",
               count, grid, layout.sheets.size(), layout.bound);
    std::fflush(stdout);
  }
}

struct Case {
  const char* name;
  double factor;
  const char* variant;
  int months;
};

/// Peak memory is that of the whole program so far: name one case to have its own.
void measure(const Case& one) {
  const library::Library library = library::load({});
  const stock::Caseload base = caseload(library, one.factor);
  const stock::Caseload load = stock::with_variant(base, stock::find_variant(base, one.variant), library);
  stock::StudyOptions options;
  options.months = one.months;
  options.workers.threads = 2;
  const bench::Stopwatch watch;
  const auto answers = stock::study(load, library, options);
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  fmt::print(
      "{{\"case\":\"{}\",\"months\":{},\"seconds\":{:.3f},\"processor\":{:.3f},\"peak_mb\":{},\"items\":{}}}"
      "\n",
      one.name, one.months, watch.seconds(), watch.processor_seconds(), usage.ru_maxrss / 1024,
      answers.items.size());
  std::fflush(stdout);
}

constexpr double group = 2000.0 / 58.0;
constexpr Case cases[]{{"clinic", 1.0, "as-you-go", 1000},       {"clinic-long", 1.0, "as-you-go", 10'000},
                       {"clinic-monthly", 1.0, "monthly", 1000}, {"clinic-blanks", 1.0, "blanks", 1000},
                       {"group", group, "as-you-go", 200},       {"group-monthly", group, "monthly", 200}};

}  // namespace

namespace warmsheet::bench {

int stock_lines(const Words& words) {
  const auto wanted = [&](const char* name) {
    return words.empty() || std::find(words.begin(), words.end(), name) != words.end();
  };
  if (wanted("grid")) measure_grid();
  for (const Case& one : cases)
    if (wanted(one.name)) measure(one);
  return EXIT_SUCCESS;
}

}  // namespace warmsheet::bench
