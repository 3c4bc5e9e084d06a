// SPDX-License-Identifier: MIT
#include "report/limb_views.h"

#include <cmath>
#include <numbers>

#include "outline/corners.h"

namespace warmsheet::report {
namespace {

using outline::Corner;
using outline::Path;
using outline::Point;
using Lines = std::vector<Sketch::Line>;

constexpr double smooth_mm = 0.2;

Sketch::Line border(const std::vector<Corner>& corners) {
  return {outline::round_corners(corners, smooth_mm).ring, Sketch::Pen::limb, true};
}
Sketch::Line detail(const std::vector<Corner>& corners) {
  return {outline::round_bends(corners, smooth_mm), Sketch::Pen::detail, false};
}

/// Right palm: forearm, thumb, index, middle, ring and little finger, little-finger border.
Sketch::Line hand_border() {
  return border({{{-29, -45}, 0}, {{29, -45}, 0},   {{29, -6}, 25},    {{54, 30}, 35},  {{89, 93}, 11},
                 {{70, 104}, 11}, {{47, 64}, 7},    {{42, 82}, 25},    {{40, 104}, 15}, {{47, 173}, 9},
                 {{29, 175}, 9},  {{21, 111}, 2.5}, {{19, 188}, 9},    {{1, 188}, 9},   {{-2, 110}, 2.5},
                 {{-8, 179}, 9},  {{-26, 178}, 9},  {{-23, 101}, 2.5}, {{-36, 153}, 8}, {{-52, 149}, 8},
                 {{-44, 92}, 25}, {{-43, 40}, 40},  {{-29, -5}, 25}});
}

Lines palm_view() {
  return {hand_border(),
          detail({{{-28, 0}, 0}, {{0, -2}, 60}, {{28, 0}, 0}}),                      // wrist crease
          detail({{{-43, 75}, 0}, {{-14, 80}, 30}, {{4, 94}, 25}, {{14, 108}, 0}}),  // distal palmar
          detail({{{41, 88}, 0}, {{18, 84}, 30}, {{-16, 66}, 40}, {{-26, 50}, 0}}),  // proximal palmar
          detail({{{40, 84}, 0}, {{14, 76}, 30}, {{0, 40}, 50}, {{8, 3}, 0}}),       // thenar
          detail({{{23, 107}, 0}, {{38, 105}, 0}}),
          detail({{{1, 113}, 0}, {{17, 113}, 0}}),  // finger bases
          detail({{{-21, 105}, 0}, {{-5, 107}, 0}}),
          detail({{{-42, 92}, 0}, {{-26, 96}, 0}}),
          detail({{{27, 134}, 0}, {{42, 132}, 0}}),
          detail({{{3, 144}, 0}, {{18, 144}, 0}}),  // middle joints
          detail({{{-23, 136}, 0}, {{-8, 137}, 0}}),
          detail({{{-46, 115}, 0}, {{-31, 119}, 0}}),
          detail({{{30, 154}, 0}, {{44, 152}, 0}}),
          detail({{{3, 166}, 0}, {{18, 166}, 0}}),  // end joints
          detail({{{-24, 157}, 0}, {{-9, 158}, 0}}),
          detail({{{-49, 132}, 0}, {{-34, 135}, 0}}),
          detail({{{60, 84}, 0}, {{77, 75}, 0}})};  // thumb's end joint
}

void mirror(Lines& lines) {
  for (Sketch::Line& line : lines)
    for (Point& point : line.points) point.x_mm = -point.x_mm;
}

/// A nail, by the middle of its root, and the direction of the finger.
Sketch::Line nail(Point root, Point tip) {
  const double long_mm = std::hypot(tip.x_mm - root.x_mm, tip.y_mm - root.y_mm);
  const Point half{5.0 * (tip.y_mm - root.y_mm) / long_mm, -5.0 * (tip.x_mm - root.x_mm) / long_mm};
  const auto ring = outline::round_corners({{{root.x_mm - half.x_mm, root.y_mm - half.y_mm}, 3},
                                            {{root.x_mm + half.x_mm, root.y_mm + half.y_mm}, 3},
                                            {{tip.x_mm + half.x_mm, tip.y_mm + half.y_mm}, 4},
                                            {{tip.x_mm - half.x_mm, tip.y_mm - half.y_mm}, 4}},
                                           smooth_mm);
  return {ring.ring, Sketch::Pen::detail, true};
}

/// The arc of a knuckle, open towards the wrist.
Sketch::Line knuckle(Point top) {
  return detail({{{top.x_mm - 7, top.y_mm - 7}, 0},
                 {{top.x_mm - 5, top.y_mm}, 6},
                 {{top.x_mm + 5, top.y_mm}, 6},
                 {{top.x_mm + 7, top.y_mm - 7}, 0}});
}

/// Drawn as a right palm's border is, then mirrored.
Lines back_view() {
  Lines lines{hand_border(),
              detail({{{-28, 0}, 0}, {{0, 2}, 60}, {{28, 0}, 0}}),
              nail({38, 162}, {39, 175}),
              nail({10, 176}, {10, 189}),
              nail({-17, 167}, {-17.5, 180}),
              nail({-42, 139}, {-44, 151}),
              nail({74, 92}, {79, 101}),
              knuckle({31, 92}),
              knuckle({10, 94}),
              knuckle({-12, 88}),
              knuckle({-33, 78})};
  mirror(lines);
  return lines;
}

Lines arm_view() {
  return {border({{{-22, -14}, 26}, {{60, -16}, 60}, {{150, -12}, 90}, {{245, 8}, 60},  {{262, 0}, 30},
                  {{330, 6}, 40},   {{432, 34}, 7},  {{428, 46}, 7},   {{340, 38}, 40}, {{300, 52}, 8},
                  {{356, 78}, 9},   {{350, 94}, 9},  {{290, 76}, 20},  {{262, 54}, 20}, {{245, 52}, 60},
                  {{120, 72}, 50},  {{76, 78}, 6},   {{72, 170}, 80},  {{82, 300}, 0},  {{-38, 300}, 0},
                  {{-34, 120}, 120}}),
          detail({{{245, 52}, 0}, {{241, 42}, 10}, {{244, 34}, 0}}),   // wrist crease
          detail({{{76, 78}, 0}, {{58, 66}, 20}, {{44, 44}, 0}}),      // elbow crease
          detail({{{-6, -2}, 0}, {{-12, 6}, 6}, {{-4, 16}, 0}}),       // tip of the elbow
          detail({{{82, 272}, 0}, {{50, 262}, 30}, {{-37, 262}, 0}}),  // fold of the armpit
          detail({{{334, 72}, 0}, {{342, 86}, 0}}),                    // thumb's end joint
          detail({{{330, 22}, 0}, {{336, 36}, 0}}),
          detail({{{366, 26}, 0}, {{370, 38}, 0}}),
          detail({{{398, 32}, 0}, {{400, 42}, 0}}),                    // index finger's joints
          detail({{{300, 52}, 0}, {{282, 42}, 10}, {{270, 26}, 0}})};  // thumb web
}

Lines finger_view() {
  return {border({{{-24, -30}, 0},
                  {{24, -30}, 0},
                  {{22, -6}, 8},
                  {{11, -2}, 4},
                  {{10.5, 28}, 30},
                  {{9.5, 53}, 30},
                  {{8.5, 78}, 9},
                  {{-8.5, 78}, 9},
                  {{-9.5, 53}, 30},
                  {{-10.5, 28}, 30},
                  {{-11, -2}, 4},
                  {{-22, -6}, 8}}),
          detail({{{-11, 0}, 0}, {{0, -2}, 20}, {{11, 0}, 0}}),
          detail({{{-10, 28}, 0}, {{0, 27}, 20}, {{10, 28}, 0}}),
          detail({{{-9, 53}, 0}, {{0, 52}, 20}, {{9, 53}, 0}})};
}

/// Two short strokes that make an arrow's head at `tip`, coming along the unit direction (dx, dy).
Sketch::Line head(Point tip, double dx, double dy, double size) {
  const Point left{tip.x_mm - size * (dx - 0.45 * dy), tip.y_mm - size * (dy + 0.45 * dx)};
  const Point right{tip.x_mm - size * (dx + 0.45 * dy), tip.y_mm - size * (dy - 0.45 * dx)};
  return {{left, tip, right}, Sketch::Pen::mark, false};
}

Lines span(Point from, Point to, double size) {
  const double long_mm = std::hypot(to.x_mm - from.x_mm, to.y_mm - from.y_mm);
  const double dx = (to.x_mm - from.x_mm) / long_mm;
  const double dy = (to.y_mm - from.y_mm) / long_mm;
  Lines lines{{{from, to}, Sketch::Pen::mark, false}, head(to, dx, dy, size), head(from, -dx, -dy, size)};
  for (const Point& end : {from, to})
    lines.push_back(
        {{{end.x_mm - size * dy, end.y_mm + size * dx}, {end.x_mm + size * dy, end.y_mm - size * dx}},
         Sketch::Pen::mark,
         false});
  return lines;
}

/// Half of a flat ellipse from one border to the other, on one side of the straight line.
Path half_round(Point from, Point to, double side) {
  constexpr double flatness = 0.16;
  constexpr int chords = 24;
  const Point middle{0.5 * (from.x_mm + to.x_mm), 0.5 * (from.y_mm + to.y_mm)};
  const Point half{to.x_mm - middle.x_mm, to.y_mm - middle.y_mm};
  Path path;
  for (int i = 0; i <= chords; ++i) {
    const double angle = std::numbers::pi * (1.0 - static_cast<double>(i) / chords);
    const double along = std::cos(angle);
    const double away = side * flatness * std::sin(angle);
    path.push_back({middle.x_mm + along * half.x_mm - away * half.y_mm,
                    middle.y_mm + along * half.y_mm + away * half.x_mm});
  }
  return path;
}

}  // namespace

std::vector<Sketch::Line> limb(library::LimbView view) {
  switch (view) {
    case library::LimbView::back:
      return back_view();
    case library::LimbView::arm:
      return arm_view();
    case library::LimbView::finger:
      return finger_view();
    default:
      return palm_view();
  }
}

std::vector<Sketch::Line> mark_lines(const library::MeasureMark& mark) {
  const Point from{mark.from_x, mark.from_y};
  const Point to{mark.to_x, mark.to_y};
  // Arrow heads keep their size on paper: a finger is drawn larger than an arm.
  const double size = mark.view == library::LimbView::finger ? 3.0
                      : mark.view == library::LimbView::arm  ? 11.0
                                                             : 6.0;
  if (!mark.girth) return span(from, to, size);
  return {{half_round(from, to, -1.0), Sketch::Pen::mark, false},
          {half_round(from, to, 1.0), Sketch::Pen::hidden, false}};
}

}  // namespace warmsheet::report
