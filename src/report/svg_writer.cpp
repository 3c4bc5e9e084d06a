// SPDX-License-Identifier: MIT
// SVG with one user unit a millimetre, said twice: in the size and in the view box, because readers differ in
// which of the two they believe.
#include <algorithm>
#include <cctype>

#include "base/text.h"
#include "report/clean_text.h"
#include "report/drawing_picture.h"
#include "report/plot_picture.h"
#include "report/sketch_picture.h"
#include "report/svg.h"
#include "report/value_text.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

/// A micrometre on paper.
std::string coordinate(double number) {
  return fixed(number, 3);
}

std::string attribute(std::string_view name, std::string_view value) {
  return " " + std::string(name) + "=\"" + std::string(value) + "\"";
}

std::string attribute(std::string_view name, double value) {
  return attribute(name, coordinate(value));
}

std::string path_data(const std::vector<outline::Point>& points) {
  std::string data;
  for (const outline::Point& point : points)
    data += (data.empty() ? "M" : "L") + coordinate(point.x_mm) + " " + coordinate(point.y_mm);
  return data;
}

std::string_view anchor_word(Canvas::Text::Anchor anchor) {
  switch (anchor) {
    case Canvas::Text::Anchor::middle:
      return "middle";
    case Canvas::Text::Anchor::end:
      return "end";
    default:
      return "start";
  }
}

constexpr std::string_view declaration = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";

}  // namespace

double text_width(std::string_view text, double size) {
  // Mean advance of letters and digits in the common grotesque faces is 0.5 to 0.56 of the size; the upper
  // end is safe.
  constexpr double advance_per_size = 0.56;
  return static_cast<double>(columns(text)) * advance_per_size * size;
}

Svg::Svg(const Frame& frame, std::string_view id, std::string_view title, std::string_view description)
    : id_(id) {
  const std::string box = coordinate(frame.left) + " " + coordinate(frame.top) + " " +
                          coordinate(frame.width) + " " + coordinate(frame.height);
  out_ = "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\"" +
         attribute("width", coordinate(frame.width_mm) + "mm") +
         attribute("height", coordinate(frame.height_mm) + "mm") + attribute("viewBox", box) +
         attribute("id", id_) + " role=\"img\"" +
         attribute("aria-labelledby", id_ + "-title " + id_ + "-desc") + " font-family=\"sans-serif\">\n" +
         "<title id=\"" + id_ + "-title\">" + escaped(title) + "</title>\n" + "<desc id=\"" + id_ +
         "-desc\">" + escaped(description) + "</desc>\n";
  Svg::rectangle(frame.left, frame.top, frame.width, frame.height, palette::paper);
}

void Svg::stroke(const Line& look) {
  out_ += attribute("stroke", hex(look.colour)) + attribute("stroke-width", look.width);
  if (look.dash.empty()) return;
  std::string dash;
  for (const double length : look.dash) dash += (dash.empty() ? "" : " ") + coordinate(length);
  out_ += attribute("stroke-dasharray", dash);
}

void Svg::line(double x1, double y1, double x2, double y2, const Line& look) {
  out_ += "<line" + attribute("x1", x1) + attribute("y1", y1) + attribute("x2", x2) + attribute("y2", y2);
  stroke(look);
  out_ += "/>\n";
}

void Svg::path(std::string_view data, std::string_view fill, const Line* edge, std::string_view kind) {
  out_ += "<path" + attribute("d", data) + attribute("fill", fill) + " fill-rule=\"evenodd\"";
  if (!kind.empty()) out_ += attribute("class", kind);
  if (edge != nullptr) {
    stroke(*edge);
    out_ += " stroke-linejoin=\"round\"";
  }
  out_ += "/>\n";
}

void Svg::polyline(const std::vector<outline::Point>& points, const Line& look) {
  if (!points.empty()) path(path_data(points), "none", &look);
}

void Svg::area(const std::vector<outline::Ring>& rings, const Hatching* hatching, const Line* edge) {
  std::string data;
  for (const outline::Ring& ring : rings) data += path_data(ring) + "Z";
  if (hatching == nullptr) return path(data, "none", edge);
  // Named, so that a reader can tell the line to cut from marks and dimensions.
  std::string kind = id_word(hatching->name);
  std::transform(kind.begin(), kind.end(), kind.begin(), [](unsigned char c) { return std::tolower(c); });
  path(data, "url(#" + pattern(*hatching) + ")", edge, kind);
}

std::string Svg::pattern(const Hatching& hatching) {
  std::string id = id_ + "-hatch-" + id_word(hatching.name);
  if (!patterns_.insert(id).second) return id;
  const double spacing = hatching.spacing;
  out_ += "<pattern" + attribute("id", id) + " patternUnits=\"userSpaceOnUse\"" +
          attribute("width", spacing) + attribute("height", spacing) +
          attribute("patternTransform", "rotate(" + coordinate(-hatching.angle_deg) + ")") + ">\n";
  line(0.0, spacing / 2.0, spacing, spacing / 2.0, hatching.look);
  if (hatching.crossed) line(spacing / 2.0, 0.0, spacing / 2.0, spacing, hatching.look);
  out_ += "</pattern>\n";
  return id;
}

void Svg::rectangle(double x, double y, double width, double height, Colour fill) {
  out_ += "<rect" + attribute("x", x) + attribute("y", y) + attribute("width", width) +
          attribute("height", height) + attribute("fill", hex(fill)) + "/>\n";
}

void Svg::text(std::string_view content, const Text& look) {
  out_ += "<text" + attribute("x", look.x) + attribute("y", look.y) + attribute("font-size", look.size) +
          attribute("fill", hex(look.colour));
  if (look.anchor != Text::Anchor::start) out_ += attribute("text-anchor", anchor_word(look.anchor));
  if (look.bold) out_ += " font-weight=\"bold\"";
  if (look.halo)
    out_ += attribute("stroke", hex(palette::paper)) + attribute("stroke-width", look.size / 4.0) +
            " stroke-linejoin=\"round\" paint-order=\"stroke\"";
  out_ += ">" + escaped(content) + "</text>\n";
}

std::string Svg::take() {
  out_ += "</svg>\n";
  return std::move(out_);
}

std::string svg_element(const Drawing& drawing, std::string_view id, int shrink, bool standing_alone) {
  const DrawingPicture picture(drawing, shrink, standing_alone);
  Svg svg({picture.width_mm(), picture.height_mm(), picture.left(), picture.top(), picture.width(),
           picture.height()},
          id, drawing.title, drawing.description);
  picture.draw(svg);
  return svg.take();
}

std::string svg_element(const Plot& plot, std::string_view id, bool standing_alone) {
  const PlotPicture picture(plot, standing_alone);
  const double width = PlotPicture::width_mm();
  const double height = picture.height_mm();
  Svg svg({width, height, 0.0, 0.0, width, height}, id, plot.title, picture.described());
  picture.draw(svg);
  return svg.take();
}

std::string svg_element(const Sketch& sketch, std::string_view id) {
  Svg svg({sketch_width_mm, sketch_height_mm, 0.0, 0.0, sketch_width_mm, sketch_height_mm}, id, sketch.title,
          sketch.description);
  draw_sketch(svg, sketch, 0.0, 0.0);
  return svg.take();
}

std::string to_svg(const std::vector<Sketch>& sketches, std::string_view title) {
  const SketchSheet sheet(sketches, title);
  Svg svg({SketchSheet::width_mm(), sheet.height_mm(), 0.0, 0.0, SketchSheet::width_mm(), sheet.height_mm()},
          "sketches", title, "Line figures, each with the text that belongs to it.");
  sheet.draw(svg);
  return std::string(declaration) + svg.take();
}

std::string to_svg(const Drawing& drawing) {
  return std::string(declaration) + svg_element(drawing, id_word(drawing.id), 1, true);
}

std::string to_svg(const Plot& plot) {
  return std::string(declaration) + svg_element(plot, id_word(plot.id), true);
}

}  // namespace warmsheet::report
