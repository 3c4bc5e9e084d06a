// SPDX-License-Identifier: MIT
// A plot laid out for paper, in millimetres: curves told apart by dash and named where they end, marked
// moments as lines with a flag above the plot, spans hatched. Readable in grey and without the page around
// it.
#pragma once

#include <string>
#include <vector>

#include "report/canvas.h"
#include "report/document.h"
#include "report/plot_scale.h"

namespace warmsheet::report {

/// What the bars of a plot with marks are.
inline constexpr std::string_view bars_note =
    "The bars at the foot reach from the low to the high bound of each marked value.";

class PlotPicture {
 public:
  /// \param titled title and notes stand in the picture itself
  PlotPicture(const Plot& plot, bool titled);

  static double width_mm();
  [[nodiscard]] double height_mm() const;
  /// Description with the marked moments in words, for those who listen to the picture.
  [[nodiscard]] std::string described() const;

  void draw(Canvas& canvas) const;

 private:
  [[nodiscard]] double plot_top() const;
  [[nodiscard]] double bottom() const;
  [[nodiscard]] double right() const;
  [[nodiscard]] double sample() const;
  [[nodiscard]] double foot_of_row(std::size_t row) const;

  void lay_out_axes();
  void lay_out_flags();
  void add_flag(const Figure& at, std::string label);
  void lay_out_notes();

  void draw_spans(Canvas& canvas) const;
  void draw_axes(Canvas& canvas) const;
  void draw_curve(Canvas& canvas, std::size_t index) const;
  void draw_curve_names(Canvas& canvas) const;
  void draw_marks(Canvas& canvas) const;
  void draw_whisker(Canvas& canvas, std::size_t mark) const;

  const Plot& plot_;
  bool titled_;
  double right_margin_mm_ = 0.0;
  double x_step_ = 1.0;
  double y_step_ = 1.0;
  std::vector<double> x_ticks_;
  std::vector<double> y_ticks_;
  Scale x_{};
  Scale y_{};
  std::vector<Flag> flags_;  ///< of the spans, then of the marks
  std::vector<std::string> labels_;
  std::vector<std::string> notes_;
  std::size_t flag_rows_ = 0;
};

}  // namespace warmsheet::report
