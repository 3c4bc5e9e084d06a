// SPDX-License-Identifier: MIT
// What somebody timed at the bench: dips of a test strip with stopwatch and thermometer (TOML), as
// `calibrate` reads it. After the bath the strip lies flat on a rack, air under it, never on skin.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/figure.h"
#include "heat/situation.h"
#include "heat/timing.h"
#include "library/library.h"

namespace warmsheet::heat {

struct SurfaceReading {
  Figure at;           // s since lifting
  Figure temperature;  // K
};

/// One dip. Times are absent if they were not taken.
struct BenchNote {
  std::string id;
  Situation situation;
  std::optional<Figure> half_soft;    // s since immersion
  std::optional<Figure> ready;        // s since immersion
  std::optional<Figure> stiffens;     // s since lifting
  std::optional<Figure> holds_shape;  // s since lifting
  std::optional<Figure> set;          // s since lifting
  std::vector<SurfaceReading> surface;
};

struct BenchNotes {
  std::string sheet;
  std::string bath_state;
  std::vector<BenchNote> notes;
};

/// Strict; every slip is reported at once with its place (data). The library must outlive the notes.
BenchNotes read_bench_notes(std::string_view text, const std::string& file, const library::Library& library);

}  // namespace warmsheet::heat
