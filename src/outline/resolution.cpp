// SPDX-License-Identifier: MIT
#include "outline/resolution.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/dimension.h"
#include "outline/readers.h"
#include "outline/refuse.h"

namespace warmsheet::outline {
namespace {

/// Points of print and dots of a screen: programs write them where they know nothing, and a pattern cut by
/// them has the wrong size (common practice, no source).
bool is_made_up(double dpi) {
  constexpr std::array screens{72.0, 96.0};
  constexpr double rounding = 0.5;
  return std::any_of(screens.begin(), screens.end(),
                     [&](double screen) { return std::abs(dpi - screen) < rounding; });
}

std::string what_to_give(const ReadOptions& options) {
  return fmt::format(
      "give the size of one pixel: {} for a scan at 150 dots per inch; for a photo of a pattern on a whole "
      "sheet of paper {}, or letter",
      setting(options, "unit", "1/150 in"), setting(options, "photo", "a4"));
}

void check(const Resolution& stated, const std::string& file, const ReadOptions& options) {
  constexpr double coarsest_dpi = 40.0;
  constexpr double finest_dpi = 4800.0;
  constexpr double square = 0.005;
  const double dpi = stated.x_per_m * inch_m;
  if (stated.camera)
    refuse({file, 0, 0},
           fmt::format("the file says {:.0f} dots per inch, but with the data of a camera (Exif), which "
                       "cannot know it",
                       dpi),
           what_to_give(options));
  if (is_made_up(dpi))
    refuse({file, 0, 0},
           fmt::format("the file says {:.0f} dots per inch, as programs write it that do not know", dpi),
           what_to_give(options));
  if (!(dpi >= coarsest_dpi && dpi <= finest_dpi))
    refuse({file, 0, 0},
           fmt::format("the file says {:.0f} dots per inch, which no scanner of patterns has", dpi),
           what_to_give(options));
  if (std::abs(stated.x_per_m - stated.y_per_m) > square * stated.x_per_m)
    refuse({file, 0, 0}, "the pixels are not square", "scan with the same resolution along and across");
}

}  // namespace

Length pixel_of(const Resolution& stated, const std::string& file, const ReadOptions& options) {
  if (options.user_unit) return *options.user_unit;
  if (!stated.known())
    refuse({file, 0, 0}, "the file does not say how large a pixel is", what_to_give(options));
  check(stated, file, options);
  return Length{1.0 / stated.x_per_m};
}

}  // namespace warmsheet::outline
