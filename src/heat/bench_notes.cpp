// SPDX-License-Identifier: MIT
#include "heat/bench_notes.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "base/dimension.h"
#include "base/strict_toml.h"

namespace warmsheet::heat {
namespace {

using D = Dimension;

// A stopwatch started by hand to an hour, the longest run of the model.
constexpr Limits time_limits_s{0.5, 3600.0};
constexpr Limits surface_limits_K{zero_C_K + 5.0, zero_C_K + 100.0};

Request request_of(toml::Reader& entry, const BenchNotes& head) {
  Request request{.sheet = head.sheet};
  request.stock_item = entry.text_if("stock");
  request.thickness = entry.figure_if("thickness", D::length, library::thickness_limits_m);
  request.perforation = entry.text_if("perforation");
  request.area = entry.figure_if("size", D::area);
  request.bath = entry.figure_if("bath", D::temperature);
  request.start = entry.figure_if("sheet_start", D::temperature);
  request.room = entry.figure_if("room", D::temperature);
  request.dried = entry.flag_if("dried");
  request.bath_state = head.bath_state;
  request.samples = 0;
  request.on_rack = true;
  return request;
}

std::vector<SurfaceReading> read_surface(toml::Reader& entry) {
  std::vector<SurfaceReading> readings;
  for (toml::Reader& reading : entry.tables("surface"))
    readings.push_back({reading.figure("at", D::duration, time_limits_s),
                        reading.figure("temperature", D::temperature, surface_limits_K)});
  return readings;
}

void check_order(toml::Reader& entry, const BenchNote& note) {
  const auto later = [&](const std::optional<Figure>& first, const std::optional<Figure>& second,
                         const char* key) {
    if (first && second && second->si() <= first->si())
      entry.problem(key,
                    fmt::format("comes before \"{}\"", first->name().substr(first->name().rfind('.') + 1)),
                    "the order is half_soft, ready; then after lifting stiffens, holds_shape, set");
  };
  later(note.half_soft, note.ready, "ready");
  later(note.stiffens, note.holds_shape, "holds_shape");
  later(note.holds_shape, note.set, "set");
  later(note.stiffens, note.set, "set");
}

/// What was timed; the situation is found when every key has been read, so that a slip in one key makes no
/// other look unknown.
struct Timed {
  std::string id;
  std::optional<Figure> half_soft, ready, stiffens, holds_shape, set;
  std::vector<SurfaceReading> surface;
};

Timed read_times(toml::Reader& entry) {
  constexpr std::array keys{"half_soft", "ready", "stiffens", "holds_shape", "set", "surface"};
  if (std::none_of(keys.begin(), keys.end(), [&](const char* key) { return entry.has(key); }))
    entry.problem("", "holds no measurement", "give ready = \"65 s\", set = \"6 min\" and the like");
  const auto time = [&](const char* key) { return entry.figure_if(key, D::duration, time_limits_s); };
  return {.id = entry.text("id"),
          .half_soft = time("half_soft"),
          .ready = time("ready"),
          .stiffens = time("stiffens"),
          .holds_shape = time("holds_shape"),
          .set = time("set"),
          .surface = read_surface(entry)};
}

/// Runs a look-up that throws, and files its problems at the place of the key that led there.
template <class Step>
bool at_place(Problems& problems, const Place& place, Step step) {
  try {
    step();
    return true;
  } catch (const Failure& failure) {
    for (const Problem& problem : failure.problems())
      problems.add(problem.place.line > 0 ? problem.place : place, problem.message, problem.hint);
    return false;
  }
}

/// Names of one note, each at its own key. Another sheet's stock would lend its thickness to this one's
/// constants.
bool names_are_known(toml::Reader& entry, const Request& request, const library::Library& library,
                     Problems& problems) {
  bool known = true;
  if (request.perforation)
    known &= at_place(problems, entry.place_of("perforation"),
                      [&] { static_cast<void>(library.perforation(*request.perforation)); });
  if (!request.stock_item) return known;
  return at_place(problems, entry.place_of("stock"),
                  [&] { static_cast<void>(stock_item_of(library, request)); }) &&
         known;
}

std::optional<Situation> situation_of(toml::Reader& entry, const Request& request,
                                      const library::Library& library, Problems& problems) {
  std::optional<Situation> situation;
  if (!names_are_known(entry, request, library, problems)) return situation;
  at_place(problems, entry.place(), [&] {
    situation = resolve(library, request);
    require_sound(*situation);
  });
  return situation;
}

/// `head_is_sound`: sheet and bath state are known; else there is no situation to find.
void read_note(toml::Reader& entry, BenchNotes& head, bool head_is_sound, const library::Library& library,
               Problems& problems) {
  const Request request = request_of(entry, head);
  Timed timed = read_times(entry);
  if (!head_is_sound) return;
  const std::optional<Situation> situation = situation_of(entry, request, library, problems);
  if (!situation) return;
  head.notes.push_back({.id = std::move(timed.id),
                        .situation = *situation,
                        .half_soft = timed.half_soft,
                        .ready = timed.ready,
                        .stiffens = timed.stiffens,
                        .holds_shape = timed.holds_shape,
                        .set = timed.set,
                        .surface = std::move(timed.surface)});
  check_order(entry, head.notes.back());
}

bool read_head(toml::Reader& root, BenchNotes& notes, const library::Library& library, Problems& problems) {
  notes.sheet = root.text("sheet");
  notes.bath_state = root.text("bath_state");
  if (notes.sheet.empty() || notes.bath_state.empty()) return false;
  const bool sheet_is_known =
      at_place(problems, root.place_of("sheet"), [&] { static_cast<void>(library.sheet(notes.sheet)); });
  return at_place(problems, root.place_of("bath_state"),
                  [&] { static_cast<void>(library.bath_state(notes.bath_state)); }) &&
         sheet_is_known;
}

}  // namespace

BenchNotes read_bench_notes(std::string_view text, const std::string& file, const library::Library& library) {
  const toml::Value document = toml::parse(text, file);
  Problems problems;
  BenchNotes notes;
  {
    toml::Reader root(document, "", problems, Basis::bench);
    const bool head_is_sound = read_head(root, notes, library, problems);
    for (toml::Reader& entry : root.tables("note")) read_note(entry, notes, head_is_sound, library, problems);
    if (notes.notes.empty() && problems.empty())
      root.problem("note", "no dip is noted",
                   "write [[note]] with id, thickness, bath and the times you took");
  }
  problems.throw_if_any();
  return notes;
}

}  // namespace warmsheet::heat
