// SPDX-License-Identifier: MIT
// A drawing laid out for paper: the shapes, below them a bar to measure and a key of the lines.
#pragma once

#include <string>
#include <vector>

#include "report/canvas.h"
#include "report/document.h"

namespace warmsheet::report {

/// Everything drawn, so that nothing is cut off even where the extent was given too small.
outline::Box whole_box(const Drawing& drawing, int shrink);

/// The shapes, lines and notes alone, x as it is and y negated; lines and letters keep their size on paper
/// when the drawing is later shrunk by `shrink`.
void draw_shapes(Canvas& canvas, const Drawing& drawing, int shrink);

/// A bar of 100 mm above one of 4 inches; `paper` is the size of a paper millimetre in user units.
void draw_bar(Canvas& canvas, double x, double y, double paper);
/// Its 4 inches.
inline constexpr double bar_length_mm = 101.6;

class DrawingPicture {
 public:
  /// \param shrink 1 for true size, 4 for 1 : 4
  /// \param titled the title stands in the picture itself
  DrawingPicture(const Drawing& drawing, int shrink, bool titled);

  // On paper.
  [[nodiscard]] double width_mm() const { return width() / shrink_; }
  [[nodiscard]] double height_mm() const { return height() / shrink_; }
  // In user units (true millimetres).
  [[nodiscard]] double left() const;
  [[nodiscard]] double top() const;
  [[nodiscard]] double width() const;
  [[nodiscard]] double height() const;

  void draw(Canvas& canvas) const;

 private:
  struct KeyEntry {
    Stroke stroke;
    double x;
    std::size_t row;
  };
  [[nodiscard]] double paper(double size_mm) const { return size_mm * shrink_; }
  [[nodiscard]] std::string scale_text() const;
  void lay_out_key();
  void draw_title(Canvas& canvas, double& y) const;
  void draw_scale(Canvas& canvas, double& y) const;
  void draw_key(Canvas& canvas, double y) const;

  const Drawing& drawing_;
  int shrink_;
  bool titled_;
  outline::Box box_;
  std::vector<KeyEntry> key_;
  std::size_t key_rows_ = 0;
};

/// The smallest whole number by which the drawing must shrink to fit the box, key and scale bar included.
int shrink_to_fit(const Drawing& drawing, double width_mm, double height_mm);

}  // namespace warmsheet::report
