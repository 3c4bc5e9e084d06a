// SPDX-License-Identifier: MIT
// Whole studies of a caseload: 60 orthoses of 8 kinds on 5 stock items, and a hospital group of 2000 a month.
// Wall time on two threads, and of the processor. Aims: 1000 months in 1.5 s, 10 000 in 10 s, the group's 200
// months in 60 s, on two free cores.
#include <benchmark/benchmark.h>

#include <string>

#include "stock/study.h"

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
BENCHMARK_MAIN();
