// SPDX-License-Identifier: MIT
// What a timing costs, and what accuracy costs: `heat_bench` prints first a table of errors against a refined
// run with the time of each, then Google Benchmark's own lines.
#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "heat/cases.h"
#include "heat/chain.h"
#include "heat/situation.h"

namespace {

using namespace warmsheet;
using namespace warmsheet::heat;
using namespace warmsheet::heat_tests;

struct Whole {
  BeforeContact before;
  AfterContact after;
};

/// Bath, air, search of the wait, limb until set: one timing of the central figures.
Whole whole(const Case& c) {
  const BeforeContact before = before_contact(c);
  return {before, after_contact(c, before.wait_s)};
}

double milliseconds_of(const Case& c) {
  constexpr int rounds = 7;
  double least = 1e9;
  for (int i = 0; i < rounds; ++i) {
    const auto start = std::chrono::steady_clock::now();
    benchmark::DoNotOptimize(whole(c));
    least = std::min(
        least, std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
  }
  return least;
}

void print_accuracy_table() {
  const Case reference = refined(usual());
  const Whole exact = whole(reference);
  const AfterContact exact_after = exact.after;
  // At the wait there is no damage to speak of: it is compared for a sheet laid on at once.
  const auto too_soon = [](const Case& c) { return after_contact(c, 0.0).damage; };
  const double exact_damage = too_soon(reference);
  fmt::print(
      "3.2 mm elastic sheet, 70 C bath, adult skin; errors against 80 / 64 / x4 cells and 0.001 K a step\n"
      "(timing itself uses 0.02 K, 24, 14, 2; the wait aims 0.005 K below its limit, a tenth of a "
      "percent)\n");
  fmt::print("{:>9} {:>5} {:>5} {:>4} {:>8} | {:>8} {:>8} {:>8} {:>8} {:>8} {:>9}\n", "tolerance", "bath",
             "sheet", "skin", "ms", "ready %", "wait %", "closes %", "set %", "peak K", "damage %");
  struct Row {
    double tolerance_K;
    std::size_t bath, sheet, skin;
  };
  for (const Row& row : {Row{0.1, 12, 8, 1}, Row{0.05, 16, 10, 1}, Row{0.02, 24, 14, 1}, Row{0.02, 24, 14, 2},
                         Row{0.01, 32, 20, 2}, Row{0.003, 48, 32, 2}}) {
    Case c = usual();
    c.accuracy = {row.bath, row.sheet, row.skin, 0.5 * row.tolerance_K, row.tolerance_K};
    const BeforeContact before = before_contact(c);
    // Both laid on at the refined run's moment, so that an error of the wait is not counted twice.
    const AfterContact after = after_contact(c, exact.before.wait_s);
    const auto percent = [](double seen, double expected) {
      return expected != 0.0 ? 100.0 * (seen / expected - 1.0) : 0.0;
    };
    fmt::print("{:>7} K {:>5} {:>5} {:>4} {:>8.3f} | {:>8.3f} {:>8.3f} {:>8.3f} {:>8.3f} {:>8.4f} {:>9.3f}\n",
               row.tolerance_K, row.bath, row.sheet, row.skin, milliseconds_of(c),
               percent(before.ready_s, exact.before.ready_s), percent(before.wait_s, exact.before.wait_s),
               percent(after.closes_s, exact_after.closes_s), percent(after.set_s, exact_after.set_s),
               after.peak_K - exact_after.peak_K, percent(too_soon(c), exact_damage));
  }
}

void bath(benchmark::State& state) {
  const Case c = usual();
  for (auto _ : state) benchmark::DoNotOptimize(run_bath(c, longest_run_s));
}
BENCHMARK(bath)->Unit(benchmark::kMicrosecond);

void one_timing(benchmark::State& state) {
  const Case c = usual();
  for (auto _ : state) benchmark::DoNotOptimize(whole(c));
}
BENCHMARK(one_timing)->Unit(benchmark::kMillisecond);

void one_timing_that_plateaus(benchmark::State& state) {
  Case c = usual(neat(3.2e-3));
  c.limb.peak_limit_K = kelvin(42.0);
  for (auto _ : state) benchmark::DoNotOptimize(whole(c));
}
BENCHMARK(one_timing_that_plateaus)->Unit(benchmark::kMillisecond);

/// Through the front door, figures and all; the cost must grow as the draws do.
void timing_with_draws(benchmark::State& state) {
  static const library::Library library = library::load({});
  Request request;
  request.sheet = "elastic-clear";
  request.samples = static_cast<int>(state.range(0));
  const Situation situation = resolve(library, request);
  for (auto _ : state) benchmark::DoNotOptimize(time(situation));
  state.counters["per_draw"] =
      benchmark::Counter(static_cast<double>(state.range(0)),
                         benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}
BENCHMARK(timing_with_draws)
    ->Arg(default_samples)
    ->Arg(200)
    ->Arg(1000)
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace

int main(int argc, char** argv) {
  print_accuracy_table();
  benchmark::Initialize(&argc, argv);
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
