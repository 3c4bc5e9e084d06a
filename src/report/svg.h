// SPDX-License-Identifier: MIT
// Pictures as SVG elements that can stand alone or inside a page.
#pragma once

#include <set>
#include <string>
#include <string_view>

#include "report/canvas.h"
#include "report/document.h"

namespace warmsheet::report {

class Svg : public Canvas {
 public:
  /// Root of a picture `width_mm` by `height_mm` on paper showing the box (left, top, width, height) of user
  /// units.
  struct Frame {
    double width_mm;
    double height_mm;
    double left;
    double top;
    double width;
    double height;
  };
  Svg(const Frame& frame, std::string_view id, std::string_view title, std::string_view description);

  void line(double x1, double y1, double x2, double y2, const Line& look) override;
  void polyline(const std::vector<outline::Point>& points, const Line& look) override;
  void area(const std::vector<outline::Ring>& rings, const Hatching* hatching, const Line* edge) override;
  void rectangle(double x, double y, double width, double height, Colour fill) override;
  void text(std::string_view content, const Text& look) override;

  std::string take();

 private:
  void stroke(const Line& look);
  void path(std::string_view data, std::string_view fill, const Line* edge, std::string_view kind = {});
  std::string pattern(const Hatching& hatching);

  std::string id_;
  std::set<std::string> patterns_;
  std::string out_;
};

/// \param standing_alone title and notes stand in the picture itself
std::string svg_element(const Drawing& drawing, std::string_view id, int shrink, bool standing_alone);
std::string svg_element(const Plot& plot, std::string_view id, bool standing_alone);
std::string svg_element(const Sketch& sketch, std::string_view id);

}  // namespace warmsheet::report
