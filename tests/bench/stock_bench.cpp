// SPDX-License-Identifier: MIT
// Whole studies of a caseload: 60 orthoses of 8 kinds on 5 stock items, and a hospital group of 2000 a month.
// Before them, what the grid of the simulation costs in sheets against a full search. Wall time on two
// threads, and of the processor. Aims: 1000 months in 1.5 s, 10 000 in 10 s, the group's 200 months in 60 s,
// on two free cores.
#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <string>
#include <vector>

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
void print_grid_against_search() {
  const library::Library library = library::load({});
  const stock::Caseload load = caseload(library, 1.0);
  std::vector<stock::KindPieces> kinds;
  std::vector<double> per_month;
  for (const stock::Kind& kind : load.kinds) {
    const bool wrist = kind.item == "elastic-clear/3.2-solid";
    kinds.push_back(stock::pieces_of(kind, library, 1));
    per_month.push_back(wrist ? 1.0 : -1.0);
  }
  stock::CuttingRules rules{.method = stock::Method::batched};
  const stock::CuttingBench bench({600.0, 450.0}, rules, kinds, per_month);
  fmt::print("sheets of 600 x 450 mm for a month of wrist orthoses, nested together\n");
  fmt::print("{:>7} {:>5} {:>7} {:>6}\n", "pieces", "grid", "search", "bound");
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
    fmt::print("{:>7} {:>5} {:>7} {:>6}\n", count, grid, layout.sheets.size(), layout.bound);
  }
}

void run(benchmark::State& state, double factor, const char* variant) {
  const library::Library library = library::load({});
  const stock::Caseload base = caseload(library, factor);
  const stock::Caseload load = stock::with_variant(base, stock::find_variant(base, variant), library);
  stock::StudyOptions options;
  options.months = static_cast<int>(state.range(0));
  options.workers.threads = 2;
  for (auto _ : state) benchmark::DoNotOptimize(stock::study(load, library, options));
}

void clinic(benchmark::State& state) {
  run(state, 1.0, "as-you-go");
}
void clinic_monthly(benchmark::State& state) {
  run(state, 1.0, "monthly");
}
void clinic_blanks(benchmark::State& state) {
  run(state, 1.0, "blanks");
}
void group(benchmark::State& state) {
  run(state, 2000.0 / 58.0, "as-you-go");
}
void group_monthly(benchmark::State& state) {
  run(state, 2000.0 / 58.0, "monthly");
}

}  // namespace

BENCHMARK(clinic)
    ->Arg(1000)
    ->Arg(10000)
    ->Unit(benchmark::kSecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Iterations(1);
BENCHMARK(clinic_monthly)
    ->Arg(1000)
    ->Unit(benchmark::kSecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Iterations(1);
BENCHMARK(clinic_blanks)
    ->Arg(1000)
    ->Unit(benchmark::kSecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Iterations(1);
BENCHMARK(group)->Arg(200)->Unit(benchmark::kSecond)->MeasureProcessCPUTime()->UseRealTime()->Iterations(1);
BENCHMARK(group_monthly)
    ->Arg(200)
    ->Unit(benchmark::kSecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime()
    ->Iterations(1);

int main(int argc, char** argv) {
  print_grid_against_search();
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
