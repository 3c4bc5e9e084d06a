// SPDX-License-Identifier: MIT
// Measures the strip engine on one published instance and prints one JSON line for each time limit:
//   nesting_bench nest FILE.json [--seconds S,S,...] [--threads T] [--seed N] [--passes P] [--processor]
// With --processor the seconds are those of the processor, summed over threads: for a machine that is busy
// otherwise. `overlap` is the deepest pair overlap in mm2 by the geometry library, on the true outlines.
#include <fmt/format.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <sstream>
#include <string>
#include <vector>

#include "nesting/instances.h"
#include "outline/geos.h"

namespace {

using warmsheet::testing::Instance;

struct Options {
  std::string file;
  std::vector<double> seconds{0.3, 1.0, 5.0, 15.0};
  int threads = 1;
  unsigned long seed = 1;
  int passes = 0;  // 0: by the clock
  bool processor = false;
};

Options parse(int argc, char** argv) {
  Options options;
  const std::vector<std::string> words(argv + 1, argv + argc);
  for (std::size_t i = words.empty() || words[0] != "nest" ? 0 : 1; i < words.size(); ++i) {
    const auto value = [&] { return i + 1 < words.size() ? words[++i] : std::string("0"); };
    if (words[i] == "--threads") {
      options.threads = std::stoi(value());
    } else if (words[i] == "--seed") {
      options.seed = std::stoul(value());
    } else if (words[i] == "--passes") {
      options.passes = std::stoi(value());
    } else if (words[i] == "--processor") {
      options.processor = true;
    } else if (words[i] == "--seconds") {
      options.seconds.clear();
      std::stringstream list(value());
      for (std::string one; std::getline(list, one, ',');) options.seconds.push_back(std::stod(one));
    } else {
      options.file = words[i];
    }
  }
  return options;
}

double overlap_mm2(const Instance& instance, const warmsheet::nesting::Strip& strip) {
  const warmsheet::nesting::Order order = warmsheet::testing::as_order(instance, strip.length_mm);
  std::vector<warmsheet::outline::Polygon> shapes;
  for (const auto& placement : strip.placements) shapes.push_back(placed_shape(order, placement));
  double worst = 0.0;
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k)
      worst = std::max(worst, warmsheet::outline::geos::overlap_mm2(shapes[i], shapes[k]));
  }
  return worst;
}

void measure(const Instance& instance, const Options& options, double seconds) {
  using Clock = std::chrono::steady_clock;
  const auto start = Clock::now();
  const std::clock_t processor_start = std::clock();
  const auto elapsed = [&] {
    if (options.processor) return static_cast<double>(std::clock() - processor_start) / CLOCKS_PER_SEC;
    return std::chrono::duration<double>(Clock::now() - start).count();
  };
  warmsheet::nesting::Effort effort;
  effort.seed = options.seed;
  effort.threads = options.threads;
  effort.passes = options.passes > 0 ? options.passes : std::numeric_limits<int>::max();
  if (options.passes == 0) effort.time_share = [&] { return elapsed() / seconds; };
  const warmsheet::nesting::Strip strip = shortest_strip(instance.order, effort);
  const double took = elapsed();
  fmt::print(
      "{{\"instance\":\"{}\",\"length\":{:.6f},\"density\":{:.4f},\"seconds\":{:.3f},\"overlap\":{:.3g},"
      "\"evaluations\":{}}}\n",
      instance.name, strip.length_mm / instance.scale, 100.0 * density(instance, strip.length_mm), took,
      overlap_mm2(instance, strip), strip.evaluations);
  std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
  try {
    const Options options = parse(argc, argv);
    const auto instance = warmsheet::testing::read_instance(options.file);
    if (!instance) {
      fmt::print(
          stderr,
          "usage: nesting_bench nest FILE.json [--seconds S,S] [--threads T] [--seed N] [--passes P]\n");
      return EXIT_FAILURE;
    }
    for (const double seconds : options.seconds) measure(*instance, options, seconds);
    return EXIT_SUCCESS;
  } catch (const std::exception& problem) {
    fmt::print(stderr, "{}\n", problem.what());
    return EXIT_FAILURE;
  }
}
