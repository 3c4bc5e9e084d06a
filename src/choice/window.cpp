// SPDX-License-Identifier: MIT
#include "choice/window.h"

#include <utility>

#include "base/problem.h"

namespace warmsheet::choice {
namespace {

Finding window_of(const library::Library& library, const heat::Request& request) {
  try {
    return heat::time(heat::resolve(library, request)).window;
  } catch (const Failure& failure) {
    if (failure.trouble() != Trouble::no_answer) throw;
    return Finding::absent(failure.problems().front().message);
  }
}

}  // namespace

WindowSource heat_windows(const library::Library& library, heat::Request surroundings, int samples) {
  surroundings.samples = samples;
  return [&library, request = std::move(surroundings)](const library::StockItem& stock,
                                                       const Figure& area) mutable {
    request.sheet = stock.sheet;
    request.stock_item = stock.id;
    request.area = area;
    return window_of(library, request);
  };
}

Choice choose_timed(const library::Library& library, Request request, const heat::Request& surroundings) {
  request.window = heat_windows(library, surroundings, 0);
  request.safe_window = heat_windows(library, surroundings, heat::default_samples);
  return choose(library, request);
}

}  // namespace warmsheet::choice
