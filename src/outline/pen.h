// SPDX-License-Identifier: MIT
// A pen that draws lines and curves as chords within a tolerance, through an affine map, into millimetres.
#pragma once

#include <vector>

#include "base/problem.h"
#include "outline/polygon.h"

namespace warmsheet::outline {

/// x' = a x + c y + e, y' = b x + d y + f
struct Affine {
  double a = 1.0;
  double b = 0.0;
  double c = 0.0;
  double d = 1.0;
  double e = 0.0;
  double f = 0.0;

  [[nodiscard]] Point operator()(const Point& p) const;
  /// First `inner`, then this one.
  [[nodiscard]] Affine after(const Affine& inner) const;
  /// The most that a length can grow.
  [[nodiscard]] double largest_stretch() const;
};

/// The most that one chord may turn so that it stays within the tolerance of its arc.
double chord_rad(double radius_mm, double tolerance_mm);

/// A run of chords in mm. A closed one does not repeat its first point.
struct Stroke {
  Ring points;
  bool closed = false;
};

/// How many points may still be drawn; one budget serves a whole file.
class PointBudget {
 public:
  explicit PointBudget(Place file) : file_(std::move(file)) {}
  /// Throws a Failure (data) once more than `largest_vertex_count` points were spent.
  void spend(std::size_t points);

 private:
  Place file_;
  std::size_t spent_ = 0;
};

class Pen {
 public:
  /// Chords stay within `tolerance_mm` of their curve. The budget must outlive the pen.
  Pen(const Affine& to_mm, double tolerance_mm, PointBudget& budget);

  /// Ends the stroke in hand, open, and starts another one.
  void move_to(const Point& to);
  void line_to(const Point& to);
  void quadratic_to(const Point& control, const Point& to);
  void cubic_to(const Point& control_1, const Point& control_2, const Point& to);
  /// Part of an ellipse whose first axis is turned by `tilt_rad`, from its parameter angle `start_rad` on by
  /// `sweep_rad` (negative: clockwise in the drawing's own axes); the pen must stand where it starts.
  void ellipse_part(const Point& centre, double rx, double ry, double tilt_rad, double start_rad,
                    double sweep_rad);
  /// Part of an ellipse by its end, radii and flags (SVG 1.1, appendix F.6): radii that are too small grow.
  void arc_to(double rx, double ry, double tilt_rad, bool large, bool sweep, const Point& to);
  void close();
  /// Ends the stroke in hand, open.
  void lift();

  [[nodiscard]] const Point& at() const { return at_; }
  [[nodiscard]] const std::vector<Stroke>& strokes() const { return strokes_; }

 private:
  void add(const Point& to);

  Affine to_mm_;
  double tolerance_mm_;
  PointBudget* budget_;
  Point at_;  // in the drawing's own units, as are all arguments
  Point start_;
  Ring points_;  // mm
  std::vector<Stroke> strokes_;
};

}  // namespace warmsheet::outline
