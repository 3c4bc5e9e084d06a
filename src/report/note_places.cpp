// SPDX-License-Identifier: MIT
#include "report/note_places.h"

#include <algorithm>
#include <optional>

#include "outline/geos.h"
#include "report/canvas.h"

namespace warmsheet::report {
namespace {

/// What the letters of a centred note cover.
outline::Polygon room_of(const Drawing::Note& note, double letter_mm) {
  const double half_x = 0.5 * text_width(note.text, letter_mm);
  const double half_y = 0.5 * letter_mm;
  const auto [x, y] = note.at;
  return outline::Polygon::make({{x - half_x, y - half_y},
                                 {x + half_x, y - half_y},
                                 {x + half_x, y + half_y},
                                 {x - half_x, y + half_y}},
                                {}, {});
}

enum class Room { none, on_lines, clear };

Room room_on(const outline::Polygon& shape, const Drawing& drawing, const Drawing::Note& note,
             double letter_mm) {
  const outline::Polygon room = room_of(note, letter_mm);
  if (!outline::geos::contains(shape, room)) return Room::none;
  const bool crossed = std::any_of(
      drawing.traces.begin(), drawing.traces.end(),
      [&](const Drawing::Trace& trace) { return !outline::geos::parts_on(room, trace.points).empty(); });
  return crossed ? Room::on_lines : Room::clear;
}

/// Puts the note at the first of the places that is clear, else at the first on the shape.
bool take_first(Drawing::Note& note, const std::vector<outline::Point>& places, const Drawing& drawing,
                const outline::Polygon& shape, double letter_mm) {
  std::optional<outline::Point> second_best;
  for (const outline::Point& place : places) {
    note.at = place;
    const Room room = room_on(shape, drawing, note, letter_mm);
    if (room == Room::clear) return true;
    if (room == Room::on_lines && !second_best) second_best = place;
  }
  if (second_best) note.at = *second_best;
  return second_best.has_value();
}

outline::Point middle_of(const outline::Box& box) {
  return {0.5 * (box.low.x_mm + box.high.x_mm), 0.5 * (box.low.y_mm + box.high.y_mm)};
}

}  // namespace

std::vector<outline::Box> crossings(const outline::Polygon& shape, double y_mm) {
  const outline::Path across{{shape.box().low.x_mm, y_mm}, {shape.box().high.x_mm, y_mm}};
  std::vector<outline::Box> found;
  for (const outline::Path& part : outline::geos::parts_on(shape, across))
    found.push_back(outline::box_of(part));
  if (found.empty()) found.push_back(outline::box_of(across));
  std::sort(found.begin(), found.end(),
            [](const outline::Box& a, const outline::Box& b) { return a.low.x_mm < b.low.x_mm; });
  return found;
}

void place_over_line(Drawing::Note& note, const Drawing& drawing, const outline::Polygon& shape,
                     const outline::Box& on, double overhang_mm) {
  const outline::Point middle = middle_of(on);
  std::vector<outline::Point> over;
  for (const double share : {0.0, -0.1, 0.1, -0.2, 0.2, -0.3, 0.3})
    over.push_back({middle.x_mm + share * on.width_mm(), middle.y_mm + 0.7 * note.size_mm});
  if (take_first(note, over, drawing, shape, note.size_mm)) return;
  const double beyond = overhang_mm + 1.0 + 0.5 * text_width(note.text, note.size_mm);
  for (const double x : {on.high.x_mm + beyond, on.low.x_mm - beyond}) {
    note.at = {x, middle.y_mm};
    if (outline::geos::overlap_mm2(shape, room_of(note, note.size_mm)) == 0.0) return;
  }
  note.at = over.front();
}

void place_inside(Drawing::Note& note, const Drawing& drawing, const outline::Polygon& shape,
                  double largest_mm) {
  std::vector<outline::Point> places;
  for (const double share : {0.0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3}) {
    const std::vector<outline::Box> on =
        crossings(shape, shape.centroid().y_mm + share * shape.box().height_mm());
    places.push_back(
        middle_of(*std::max_element(on.begin(), on.end(), [](const outline::Box& a, const outline::Box& b) {
          return a.width_mm() < b.width_mm();
        })));
  }
  if (take_first(note, places, drawing, shape, largest_mm)) return;
  note.text = note.brief;
  if (!take_first(note, places, drawing, shape, largest_mm)) note.at = places.front();
}

}  // namespace warmsheet::report
