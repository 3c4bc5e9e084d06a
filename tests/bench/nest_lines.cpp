// SPDX-License-Identifier: MIT
// The strip engine on a published instance, one line for each time limit, and orders of many pieces over
// sheets of 610 x 457 mm: every design of the library for people of several sizes, turned freely, 3 mm apart
// and from the edge. With --processor the seconds are those of the processor, summed over threads: for a
// machine that is busy otherwise. `overlap` is the deepest pair overlap in mm2 by the geometry library, on
// the true outlines.
#include <fmt/format.h>

#include <cstdio>
#include <cstdlib>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "bench/lines.h"
#include "library/library.h"
#include "nesting/instances.h"
#include "nesting/orders.h"
#include "outline/geos.h"
#include "outline/outline.h"

namespace {

using warmsheet::testing::Instance;

struct Options {
  std::string file;
  std::vector<double> seconds{0.3, 1.0, 5.0, 15.0};
  int threads = 1;
  unsigned long seed = 1;
  int passes = 0;  // 0: by the clock
  bool processor = false;
  std::vector<int> pieces{10, 50, 200, 1000};
  int kinds = 8;
};

Options options_of(const warmsheet::bench::Words& words) {
  Options options;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const auto value = [&] { return i + 1 < words.size() ? words[++i] : std::string("0"); };
    if (words[i] == "--threads") {
      options.threads = std::stoi(value());
    } else if (words[i] == "--seed") {
      options.seed = std::stoul(value());
    } else if (words[i] == "--passes") {
      options.passes = std::stoi(value());
    } else if (words[i] == "--kinds") {
      options.kinds = std::stoi(value());
    } else if (words[i] == "--pieces") {
      options.pieces.clear();
      std::stringstream list(value());
      for (std::string one; std::getline(list, one, ',');) options.pieces.push_back(std::stoi(one));
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
  const warmsheet::bench::Stopwatch watch;
  const auto elapsed = [&] { return options.processor ? watch.processor_seconds() : watch.seconds(); };
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

/// One outline of a design at its usual measures times a size; nothing if it cannot be drawn so.
std::optional<warmsheet::outline::Polygon> outline_of(const warmsheet::library::Design& design,
                                                      const warmsheet::library::Library& library,
                                                      double size) {
  using namespace warmsheet;
  outline::Measures measures;
  for (const std::string& id : design.measures) {
    const Figure& usual = library.measures.at(id).usual;
    measures.emplace(id, Figure::entered(id, Range::exactly(usual.si() * size), usual.unit()));
  }
  try {
    return outline::draw(design, library, measures, outline::Side::right).shape;
  } catch (const Failure&) {
    return std::nullopt;
  }
}

warmsheet::nesting::Order bench_order(int pieces, int kinds) {
  using namespace warmsheet;
  static const library::Library library = library::load({});
  nesting::Order order{{}, {testing::sheet(610.0, 457.0)}, 3.0, 3.0};
  for (int k = 0; static_cast<int>(order.pieces.size()) < std::min(kinds, pieces); ++k) {
    const auto count = static_cast<int>(library.designs.size());
    const double size = 1.0 - 0.013 * (k / count);
    const auto shape = outline_of(std::next(library.designs.begin(), (k * 4) % count)->second, library, size);
    if (!shape) continue;
    order.pieces.push_back(testing::piece(fmt::format("kind {}", k), *shape));
    order.pieces.back().rotations.free = true;
  }
  const int share = static_cast<int>(order.pieces.size());
  for (int i = 0; i < share; ++i)
    order.pieces[static_cast<std::size_t>(i)].copies = pieces / share + (i < pieces % share ? 1 : 0);
  return order;
}

void measure_order(const Options& options, int pieces) {
  const warmsheet::nesting::Order order = bench_order(pieces, options.kinds);
  warmsheet::nesting::Effort effort;
  effort.seed = options.seed;
  effort.threads = options.threads;
  if (options.passes > 0) effort.passes = options.passes;
  const warmsheet::bench::Stopwatch watch;
  const warmsheet::nesting::Layout layout = nest(order, effort);
  const double took = watch.seconds();
  const double processor = watch.processor_seconds();
  double used = 0.0;
  for (const auto& sheet : layout.sheets) used += sheet.used_area_mm2;
  const double whole = static_cast<double>(layout.sheets.size()) * order.stock[0].shape.area_mm2();
  fmt::print(
      "{{\"pieces\":{},\"kinds\":{},\"sheets\":{},\"bound\":{},\"last_mm\":{:.1f},\"density\":{:.2f},"
      "\"seconds\":{:.2f},\"processor\":{:.2f},\"unplaced\":{}}}\n",
      pieces, order.pieces.size(), layout.sheets.size(), layout.bound,
      layout.sheets.empty() ? 0.0 : layout.sheets.back().used_length_mm, 100.0 * used / whole, took,
      processor, layout.unplaced.size());
  std::fflush(stdout);
}

}  // namespace

namespace warmsheet::bench {

int order_lines(const Words& words) {
  const Options options = options_of(words);
  for (const int pieces : options.pieces) measure_order(options, pieces);
  return EXIT_SUCCESS;
}

int nest_lines(const Words& words) {
  const Options options = options_of(words);
  const auto instance = testing::read_instance(options.file);
  if (!instance) {
    fmt::print(stderr, "\"{}\" is no instance that can be read\n", options.file);
    return EXIT_FAILURE;
  }
  for (const double seconds : options.seconds) measure(*instance, options, seconds);
  return EXIT_SUCCESS;
}

}  // namespace warmsheet::bench
