// SPDX-License-Identifier: MIT
#include "report/plot_picture.h"

#include <algorithm>
#include <cmath>

#include "report/strokes.h"
#include "report/text_layout.h"
#include "report/value_text.h"

namespace warmsheet::report {
namespace {

constexpr double width = 180.0;
constexpr double plot_height_mm = 72.0;
constexpr double left_mm = 16.0;
constexpr double narrowest_right_mm = 8.0;
constexpr double widest_right_mm = 74.0;
/// Of each curve's line, before its name: one whole run of the longest dashes but one.
constexpr double sample_mm = 11.0;
constexpr double top_mm = 4.0;
constexpr double title_mm = 5.0;
constexpr double title_letter_mm = 3.7;
constexpr double foot_mm = 12.0;
constexpr double note_gap_mm = 3.0;
constexpr double letter_mm = 3.0;
constexpr double row_mm = 4.4;
constexpr double tick_mm = 1.2;
constexpr double label_gap_mm = 2.0;
constexpr double curve_mm = 0.6;
constexpr double axis_mm = 0.3;
constexpr double mark_mm = 0.35;
constexpr double grid_mm = 0.1;
constexpr double leader_mm = 0.2;
constexpr double span_hatch_mm = 2.4;
constexpr double whisker_mm = 0.7;
constexpr double whisker_step_mm = 1.8;
/// Points nearer together than this cannot be told apart on paper.
constexpr double nearest_points_mm = 0.15;
constexpr double half_capital = 0.35;
constexpr int wanted_x_ticks = 8;
constexpr int wanted_y_ticks = 5;

using Anchor = Canvas::Text::Anchor;

std::string tick_text(double number, double step) {
  // The decimals of 1, 2 or 5 times a power of ten.
  return fixed(number, std::max(0, -static_cast<int>(std::floor(std::log10(step) + 1e-9))));
}

std::string label_text(const Figure& figure) {
  return value_text(figure, Glyphs::symbols).value + " [" + basis_mark(figure.basis()) + "]";
}

struct Extremes {
  double low = 0.0;
  double high = 0.0;
  bool any = false;

  void include(double value) {
    low = any ? std::min(low, value) : value;
    high = any ? std::max(high, value) : value;
    any = true;
  }
  /// A flat curve still gets an axis of some length.
  void widen() {
    if (low < high) return;
    low -= 0.5;
    high += 0.5;
  }
};

/// Pushes sorted places apart to a row each, within the bounds as far as that goes.
void spread(std::vector<double>& places, double low, double high) {
  for (double& place : places) {
    place = std::max(low, place);
    low = place + row_mm;
  }
  for (std::size_t i = places.size(); i-- > 0;) {
    places[i] = std::min(places[i], high);
    high = places[i] - row_mm;
  }
}

}  // namespace

PlotPicture::PlotPicture(const Plot& plot, bool titled) : plot_(plot), titled_(titled) {
  lay_out_axes();
  lay_out_flags();
  y_ = {y_ticks_.front(), y_ticks_.back(), bottom(), plot_top()};
  if (titled_) lay_out_notes();
}

double PlotPicture::width_mm() {
  return width;
}

/// The name of the y axis stands on a row of its own below the flags.
double PlotPicture::plot_top() const {
  return top_mm + (titled_ ? title_mm : 0.0) + row_mm * (static_cast<double>(flag_rows_) + 1.0);
}
double PlotPicture::bottom() const {
  return plot_top() + plot_height_mm;
}
double PlotPicture::right() const {
  return width - right_margin_mm_;
}
double PlotPicture::foot_of_row(std::size_t row) const {
  return plot_top() - row_mm * (static_cast<double>(row) + 1.0);
}

double PlotPicture::height_mm() const {
  const double notes = notes_.empty() ? 0.0 : note_gap_mm + row_mm * static_cast<double>(notes_.size());
  return bottom() + foot_mm + notes;
}

std::string PlotPicture::described() const {
  std::string text = plot_.description;
  for (const std::string& label : labels_) text += " " + label + ".";
  return text;
}

void PlotPicture::lay_out_axes() {
  Extremes x;
  Extremes y;
  double widest_name = 0.0;
  for (const Plot::Curve& curve : plot_.curves) {
    for (const double value : curve.x) x.include(value);
    for (const double value : curve.y) y.include(value);
    widest_name = std::max(widest_name, text_width(curve.name, letter_mm));
  }
  for (const Plot::Mark& mark : plot_.marks) x.include(mark.at.value());
  for (const Plot::Span& span : plot_.spans)
    for (const Figure& edge : {span.from, span.to}) x.include(edge.value());
  x.widen();
  y.widen();
  // A browser's face may be a tenth wider than the usual one, and short words of wide letters ("mean") are a
  // letter wider than words on average.
  constexpr double wide_face = 1.1;
  right_margin_mm_ = std::clamp(sample() + wide_face * widest_name + letter_mm + 2.0 * label_gap_mm,
                                narrowest_right_mm, widest_right_mm);
  x_step_ = round_step(x.high - x.low, wanted_x_ticks);
  y_step_ = round_step(y.high - y.low, wanted_y_ticks);
  x_ticks_ = ticks_around(x.low, x.high, x_step_);
  y_ticks_ = ticks_around(y.low, y.high, y_step_);
  x_ = {x_ticks_.front(), x_ticks_.back(), left_mm, right()};
}

void PlotPicture::lay_out_flags() {
  for (const Plot::Span& span : plot_.spans)
    add_flag(span.from, span.name + ": " + label_text(span.from) + " to " + label_text(span.to));
  for (const Plot::Mark& mark : plot_.marks) add_flag(mark.at, mark.name + " " + label_text(mark.at));
  place_flags(flags_, width - label_gap_mm);
  for (const Flag& flag : flags_) flag_rows_ = std::max(flag_rows_, flag.row + 1);
}

void PlotPicture::add_flag(const Figure& at, std::string label) {
  flags_.push_back({x_.place(at.value()), text_width(label, letter_mm)});
  labels_.push_back(std::move(label));
}

void PlotPicture::lay_out_notes() {
  const auto columns_that_fit = static_cast<std::size_t>((width - left_mm) / text_width("n", letter_mm));
  if (!plot_.marks.empty()) notes_ = fold(bars_note, columns_that_fit);
  for (std::string& line : fold(phrase_line(plot_.basis_note), columns_that_fit))
    notes_.push_back(std::move(line));
}

void PlotPicture::draw(Canvas& canvas) const {
  if (titled_)
    canvas.text(plot_.title,
                {left_mm, top_mm + label_gap_mm, title_letter_mm, Anchor::start, palette::ink, true});
  draw_spans(canvas);
  draw_axes(canvas);
  for (std::size_t i = 0; i < plot_.curves.size(); ++i) draw_curve(canvas, i);
  draw_marks(canvas);
  draw_curve_names(canvas);
  canvas.text(plot_.y_label, {label_gap_mm, foot_of_row(0) + label_gap_mm, letter_mm, Anchor::start,
                              palette::quiet_ink, false, true});
  double y = bottom() + foot_mm + note_gap_mm;
  for (const std::string& line : notes_) {
    canvas.text(line, {left_mm, y, letter_mm, Anchor::start, palette::quiet_ink});
    y += row_mm;
  }
}

void PlotPicture::draw_spans(Canvas& canvas) const {
  const Canvas::Hatching hatching{"span", span_hatch_mm, 45.0, false, {palette::green, leader_mm}};
  for (const Plot::Span& span : plot_.spans) {
    const double from = x_.place(span.from.value());
    const double to = x_.place(span.to.value());
    canvas.area({{{from, plot_top()}, {to, plot_top()}, {to, bottom()}, {from, bottom()}}}, &hatching,
                nullptr);
    canvas.line(to, plot_top(), to, bottom(), {palette::green, mark_mm});
  }
}

void PlotPicture::draw_axes(Canvas& canvas) const {
  for (const double tick : y_ticks_) {
    const double y = y_.place(tick);
    canvas.line(left_mm - tick_mm, y, right(), y, {palette::rule, grid_mm});
    canvas.text(tick_text(tick, y_step_),
                {left_mm - label_gap_mm, y + letter_mm * half_capital, letter_mm, Anchor::end});
  }
  for (const double tick : x_ticks_) {
    const double x = x_.place(tick);
    canvas.line(x, bottom(), x, bottom() + tick_mm, {palette::ink, axis_mm});
    canvas.text(tick_text(tick, x_step_),
                {x, bottom() + label_gap_mm + letter_mm, letter_mm, Anchor::middle});
  }
  canvas.line(left_mm, plot_top(), left_mm, bottom(), {palette::ink, axis_mm});
  canvas.line(left_mm, bottom(), right(), bottom(), {palette::ink, axis_mm});
  canvas.text(plot_.x_label, {(left_mm + right()) / 2.0, bottom() + label_gap_mm + letter_mm + row_mm,
                              letter_mm, Anchor::middle, palette::quiet_ink});
}

void PlotPicture::draw_curve(Canvas& canvas, std::size_t index) const {
  const Plot::Curve& curve = plot_.curves[index];
  const std::size_t count = std::min(curve.x.size(), curve.y.size());
  std::vector<outline::Point> points;
  for (std::size_t i = 0; i < count; ++i) {
    const outline::Point point{x_.place(curve.x[i]), y_.place(curve.y[i])};
    const bool last = i + 1 == count;
    const bool apart = points.empty() || std::hypot(point.x_mm - points.back().x_mm,
                                                    point.y_mm - points.back().y_mm) >= nearest_points_mm;
    if (apart || last) points.push_back(point);
  }
  const CurveStyle& style = curve_style(index);
  canvas.polyline(points, {style.colour, curve_mm, style.dash_mm});
}

/// A curve that is alone needs none.
double PlotPicture::sample() const {
  return plot_.curves.size() > 1 ? sample_mm : 0.0;
}

/// Names beside the ends of the curves, pushed apart where the curves end together, each with a sample of its
/// line.
void PlotPicture::draw_curve_names(Canvas& canvas) const {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < plot_.curves.size(); ++i)
    if (!plot_.curves[i].y.empty() && !plot_.curves[i].x.empty()) order.push_back(i);
  const auto end_y = [&](std::size_t i) { return y_.place(plot_.curves[i].y.back()); };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return end_y(a) < end_y(b); });
  std::vector<double> places;
  for (const std::size_t i : order) places.push_back(end_y(i));
  spread(places, plot_top(), bottom());
  for (std::size_t i = 0; i < order.size(); ++i) {
    const Plot::Curve& curve = plot_.curves[order[i]];
    const CurveStyle& style = curve_style(order[i]);
    const double x = right() + label_gap_mm;
    canvas.line(x_.place(curve.x.back()), end_y(order[i]), x, places[i], {style.colour, leader_mm});
    if (sample() > 0.0)
      canvas.line(x, places[i], x + sample(), places[i], {style.colour, curve_mm, style.dash_mm});
    canvas.text(curve.name, {x + sample() + 0.6, places[i] + letter_mm * half_capital, letter_mm,
                             Anchor::start, palette::ink, false, true});
  }
}

void PlotPicture::draw_marks(Canvas& canvas) const {
  const std::size_t spans = plot_.spans.size();
  for (std::size_t i = 0; i < flags_.size(); ++i) {
    const Canvas::Line look{i < spans ? palette::green : palette::ink, mark_mm};
    canvas.line(flags_[i].line_mm, bottom(), flags_[i].line_mm, foot_of_row(flags_[i].row) - letter_mm * 0.8,
                look);
    if (i >= spans) draw_whisker(canvas, i - spans);
  }
  for (std::size_t i = 0; i < flags_.size(); ++i)
    canvas.text(labels_[i], {flags_[i].text_mm, foot_of_row(flags_[i].row), letter_mm, Anchor::start,
                             palette::ink, false, true});
}

void PlotPicture::draw_whisker(Canvas& canvas, std::size_t mark) const {
  const Figure& at = plot_.marks[mark].at;
  if (!at.has_range()) return;
  const double y = bottom() - whisker_step_mm * (static_cast<double>(mark) + 1.0);
  const double from = x_.place(std::max(at.low(), x_.from));
  const double to = x_.place(std::min(at.high(), x_.to));
  canvas.line(from, y, to, y, {palette::ink, whisker_mm});
}

}  // namespace warmsheet::report
