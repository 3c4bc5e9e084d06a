// SPDX-License-Identifier: MIT
// Chords for curves. A Bezier curve of degree n cut into k equal parts of its parameter leaves its chords by
// at most n (n-1) / 8 times its largest second difference over k squared (Wang's bound, e.g. in Goldman,
// Pyramid Algorithms); an arc leaves its chord by the sagitta r (1 - cos(step/2)).
#include "outline/pen.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace warmsheet::outline {
namespace {

/// One curve never needs more: a 10 m curve within 0.0001 mm takes some 20 000 chords.
constexpr double most_chords = 50'000.0;

Point plus(const Point& a, double factor, const Point& b) {
  return {a.x_mm + factor * b.x_mm, a.y_mm + factor * b.y_mm};
}

/// Length of a - 2 b + c.
double second_difference(const Point& a, const Point& b, const Point& c) {
  return std::hypot(a.x_mm - 2.0 * b.x_mm + c.x_mm, a.y_mm - 2.0 * b.y_mm + c.y_mm);
}

int chords_for_bezier(double factor, double difference, double tolerance_mm) {
  const double chords = std::ceil(std::sqrt(factor * difference / tolerance_mm));
  return static_cast<int>(std::clamp(std::isfinite(chords) ? chords : most_chords, 1.0, most_chords));
}

int chords_for_arc(double radius_mm, double sweep_rad, double tolerance_mm) {
  const double chords = std::ceil(std::abs(sweep_rad) / chord_rad(radius_mm, tolerance_mm));
  return static_cast<int>(std::clamp(std::isfinite(chords) ? chords : most_chords, 1.0, most_chords));
}

}  // namespace

double chord_rad(double radius_mm, double tolerance_mm) {
  constexpr double widest = std::numbers::pi / 8.0;  // a small circle still looks round
  if (tolerance_mm >= radius_mm) return widest;
  return std::min(widest, 2.0 * std::acos(1.0 - tolerance_mm / radius_mm));
}

Point Affine::operator()(const Point& p) const {
  return {a * p.x_mm + c * p.y_mm + e, b * p.x_mm + d * p.y_mm + f};
}

Affine Affine::after(const Affine& inner) const {
  return {a * inner.a + c * inner.b, b * inner.a + d * inner.b,     a * inner.c + c * inner.d,
          b * inner.c + d * inner.d, a * inner.e + c * inner.f + e, b * inner.e + d * inner.f + f};
}

double Affine::largest_stretch() const {
  // Largest singular value of the linear part.
  const double sum = 0.5 * (a * a + b * b + c * c + d * d);
  const double determinant = a * d - b * c;
  return std::sqrt(sum + std::sqrt(std::max(0.0, sum * sum - determinant * determinant)));
}

void PointBudget::spend(std::size_t points) {
  spent_ += points;
  if (spent_ <= largest_vertex_count) return;
  throw Failure(Problem{Trouble::data, file_,
                        fmt::format("the file draws more than {} points", largest_vertex_count),
                        "simplify the shape in the drawing program, or ask for a coarser tolerance"});
}

Pen::Pen(const Affine& to_mm, double tolerance_mm, PointBudget& budget)
    : to_mm_(to_mm), tolerance_mm_(tolerance_mm), budget_(&budget) {}

void Pen::add(const Point& to) {
  budget_->spend(1);
  points_.push_back(to_mm_(to));
}

void Pen::move_to(const Point& to) {
  lift();
  at_ = start_ = to;
}

void Pen::line_to(const Point& to) {
  if (points_.empty()) add(at_);
  add(to);
  at_ = to;
}

void Pen::quadratic_to(const Point& control, const Point& to) {
  const Point from = at_;
  const int chords = chords_for_bezier(
      2.0 / 8.0, second_difference(to_mm_(from), to_mm_(control), to_mm_(to)), tolerance_mm_);
  for (int i = 1; i < chords; ++i) {
    const double t = static_cast<double>(i) / chords;
    const double s = 1.0 - t;
    line_to(plus(plus(plus({}, s * s, from), 2.0 * s * t, control), t * t, to));
  }
  line_to(to);
}

void Pen::cubic_to(const Point& control_1, const Point& control_2, const Point& to) {
  const Point from = at_;
  const double difference = std::max(second_difference(to_mm_(from), to_mm_(control_1), to_mm_(control_2)),
                                     second_difference(to_mm_(control_1), to_mm_(control_2), to_mm_(to)));
  const int chords = chords_for_bezier(6.0 / 8.0, difference, tolerance_mm_);
  for (int i = 1; i < chords; ++i) {
    const double t = static_cast<double>(i) / chords;
    const double s = 1.0 - t;
    const Point near_start = plus(plus({}, s * s * s, from), 3.0 * s * s * t, control_1);
    line_to(plus(plus(near_start, 3.0 * s * t * t, control_2), t * t * t, to));
  }
  line_to(to);
}

void Pen::ellipse_part(const Point& centre, double rx, double ry, double tilt_rad, double start_rad,
                       double sweep_rad) {
  const double radius_mm = std::max(rx, ry) * to_mm_.largest_stretch();
  const int chords = chords_for_arc(radius_mm, sweep_rad, tolerance_mm_);
  const double c = std::cos(tilt_rad);
  const double s = std::sin(tilt_rad);
  for (int i = 1; i <= chords; ++i) {
    const double angle = start_rad + sweep_rad * i / chords;
    const Point on{rx * std::cos(angle), ry * std::sin(angle)};
    line_to({centre.x_mm + c * on.x_mm - s * on.y_mm, centre.y_mm + s * on.x_mm + c * on.y_mm});
  }
}

void Pen::arc_to(double rx, double ry, double tilt_rad, bool large, bool sweep, const Point& to) {
  rx = std::abs(rx);
  ry = std::abs(ry);
  if (rx == 0.0 || ry == 0.0) return line_to(to);
  if (at_ == to) return;
  const double c = std::cos(tilt_rad);
  const double s = std::sin(tilt_rad);
  const Point half{0.5 * (at_.x_mm - to.x_mm), 0.5 * (at_.y_mm - to.y_mm)};
  const Point turned{c * half.x_mm + s * half.y_mm, -s * half.x_mm + c * half.y_mm};
  const double reach = std::hypot(turned.x_mm / rx, turned.y_mm / ry);
  if (reach > 1.0) {
    rx *= reach;
    ry *= reach;
  }
  const double squared = std::pow(std::min(1.0, reach), 2);
  const double away = (large == sweep ? -1.0 : 1.0) * std::sqrt(std::max(0.0, 1.0 - squared) / squared);
  const Point centre_turned{away * rx * turned.y_mm / ry, -away * ry * turned.x_mm / rx};
  const Point centre{c * centre_turned.x_mm - s * centre_turned.y_mm + 0.5 * (at_.x_mm + to.x_mm),
                     s * centre_turned.x_mm + c * centre_turned.y_mm + 0.5 * (at_.y_mm + to.y_mm)};
  const double start =
      std::atan2((turned.y_mm - centre_turned.y_mm) / ry, (turned.x_mm - centre_turned.x_mm) / rx);
  const double end =
      std::atan2((-turned.y_mm - centre_turned.y_mm) / ry, (-turned.x_mm - centre_turned.x_mm) / rx);
  double turn = end - start;
  constexpr double full = 2.0 * std::numbers::pi;
  if (sweep && turn < 0.0) turn += full;
  if (!sweep && turn > 0.0) turn -= full;
  ellipse_part(centre, rx, ry, tilt_rad, start, turn);
  at_ = to;
  points_.back() = to_mm_(to);  // exactly, not through sines
}

void Pen::close() {
  if (!points_.empty()) strokes_.push_back({std::move(points_), true});
  points_.clear();
  at_ = start_;
}

void Pen::lift() {
  if (!points_.empty()) strokes_.push_back({std::move(points_), false});
  points_.clear();
}

}  // namespace warmsheet::outline
