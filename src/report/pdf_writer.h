// SPDX-License-Identifier: MIT
// PDF pages in millimetres from the upper left corner, on libharu.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "report/canvas.h"
#include "report/writers.h"

namespace warmsheet::report {

class PdfWriter : public Canvas {
 public:
  PdfWriter(std::string_view title, Paper paper);
  ~PdfWriter() override;

  [[nodiscard]] double page_width_mm() const;
  [[nodiscard]] double page_height_mm() const;

  void add_page();

  /// User units to paper: the point (left, top) of the user lands at (x, y) of the page.
  struct Placement {
    double x_mm = 0.0;
    double y_mm = 0.0;
    double left = 0.0;
    double top = 0.0;
    double scale = 1.0;
  };
  void place(const Placement& placement) { placement_ = placement; }

  /// Nothing outside the box (user units) is drawn until `end_clip`. May not be nested.
  void clip(double x, double y, double width, double height);
  void end_clip();

  void line(double x1, double y1, double x2, double y2, const Line& look) override;
  void polyline(const std::vector<outline::Point>& points, const Line& look) override;
  void area(const std::vector<outline::Ring>& rings, const Hatching* hatching, const Line* edge) override;
  void rectangle(double x, double y, double width, double height, Colour fill) override;
  void text(std::string_view content, const Text& look) override;

  /// Exact, from the metrics of the face.
  [[nodiscard]] double exact_width(std::string_view content, double size, bool bold) const;

  /// The file. Throws a Failure (write) if the library met an error on the way.
  std::string take();

 private:
  struct Pdf;
  void set_line(const Line& look);
  void ring_path(const outline::Ring& ring);
  void fill_with(const Hatching& hatching, const std::vector<outline::Ring>& rings);
  [[nodiscard]] float x_points(double x) const;
  [[nodiscard]] float y_points(double y) const;
  [[nodiscard]] float length_points(double length) const;

  std::unique_ptr<Pdf> pdf_;
  Placement placement_;
};

}  // namespace warmsheet::report
