// SPDX-License-Identifier: MIT
#include "heat/bench_notes.h"

#include <fmt/format.h>

#include <utility>

#include "base/strict_toml.h"

namespace warmsheet::heat {
namespace {

using D = Dimension;

// A stopwatch started by hand to an hour, the longest run of the model.
constexpr toml::Limits time_limits_s{0.5, 3600.0};
constexpr double zero_celsius_K = 273.15;
constexpr toml::Limits surface_limits_K{zero_celsius_K + 5.0, zero_celsius_K + 100.0};

Request request_of(toml::Reader& entry, const BenchNotes& head) {
  Request request{.sheet = head.sheet};
  request.stock_item = entry.text_if("stock");
  request.thickness = entry.figure_if("thickness", D::length);
  request.perforation = entry.text_if("perforation");
  request.area = entry.figure_if("size", D::area);
  request.bath = entry.figure_if("bath", D::temperature);
  request.start = entry.figure_if("sheet_start", D::temperature);
  request.room = entry.figure_if("room", D::temperature);
  request.dried = entry.flag_if("dried");
  request.bath_state = head.bath_state;
  request.samples = 0;
  return request;
}

std::vector<SurfaceReading> read_surface(toml::Reader& entry) {
  std::vector<SurfaceReading> readings;
  for (toml::Reader& reading : entry.tables("surface"))
    readings.push_back({reading.figure("at", D::duration, time_limits_s),
                        reading.figure("temperature", D::temperature, surface_limits_K)});
  return readings;
}

bool says_nothing(const BenchNote& note) {
  return !note.half_soft && !note.ready && !note.stiffens && !note.holds_shape && !note.set &&
         note.surface.empty();
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

void read_note(toml::Reader& entry, BenchNotes& head, const library::Library& library, Problems& problems) {
  try {
    BenchNote note{.id = entry.text("id"),
                   .situation = resolve(library, request_of(entry, head)),
                   .half_soft = entry.figure_if("half_soft", D::duration, time_limits_s),
                   .ready = entry.figure_if("ready", D::duration, time_limits_s),
                   .stiffens = entry.figure_if("stiffens", D::duration, time_limits_s),
                   .holds_shape = entry.figure_if("holds_shape", D::duration, time_limits_s),
                   .set = entry.figure_if("set", D::duration, time_limits_s),
                   .surface = read_surface(entry)};
    require_sound(note.situation);
    if (says_nothing(note))
      entry.problem("", "holds no measurement", "give ready = \"65 s\", set = \"6 min\" and the like");
    check_order(entry, note);
    head.notes.push_back(std::move(note));
  } catch (const Failure& failure) {
    for (const Problem& problem : failure.problems())
      problems.add(problem.place.line > 0 ? problem.place : entry.place(), problem.message, problem.hint);
  }
}

}  // namespace

BenchNotes read_bench_notes(std::string_view text, const std::string& file, const library::Library& library) {
  const toml::Value document = toml::parse(text, file);
  Problems problems;
  BenchNotes notes;
  {
    toml::Reader root(document, "", problems, Basis::bench);
    notes.sheet = root.text("sheet");
    notes.bath_state = root.text("bath_state");
    for (toml::Reader& entry : root.tables("note")) read_note(entry, notes, library, problems);
    if (notes.notes.empty() && problems.empty())
      root.problem("note", "no dip is noted",
                   "write [[note]] with id, thickness, bath and the times you took");
  }
  problems.throw_if_any();
  return notes;
}

}  // namespace warmsheet::heat
