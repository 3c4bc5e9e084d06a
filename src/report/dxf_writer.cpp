// SPDX-License-Identifier: MIT
// DXF of release 12, which every cutter reads. Its numbers have no unit; $INSUNITS is a hint that many
// readers ignore, so a square of 100 mm stands beside the drawing on a layer of its own, to be measured after
// import.
#include <algorithm>

#include "report/clean_text.h"
#include "report/strokes.h"
#include "report/value_text.h"
#include "report/writers.h"

namespace warmsheet::report {
namespace {

constexpr std::string_view check_layer = "CHECK_100MM";
constexpr std::string_view note_layer = "NOTES";
constexpr double square_mm = 100.0;
constexpr double square_gap_mm = 20.0;
constexpr double check_letter_mm = 4.0;
/// A tenth of a micrometre.
constexpr int decimals = 4;
constexpr std::string_view millimetres = "4";  // $INSUNITS
constexpr std::string_view metric = "1";       // $MEASUREMENT

class DxfWriter {
 public:
  explicit DxfWriter(const Drawing& drawing) : drawing_(drawing), used_(drawing.extent) {}

  std::string write() {
    for (const Drawing::Shape& shape : drawing_.shapes) add(shape);
    for (const Drawing::Segment& segment : drawing_.segments) add(segment);
    for (const Drawing::Trace& trace : drawing_.traces)
      add_polyline(style_of(trace.stroke).layer, trace.points, "0");
    for (const Drawing::Note& note : drawing_.notes)
      add_text(note_layer, note.at, note.size_mm, note.text, note.centred);
    add_check_square();
    const std::string entities = std::move(out_);
    out_.clear();
    header();
    tables();
    begin_section("ENTITIES");
    out_ += entities;
    code(0, "ENDSEC");
    code(0, "EOF");
    return std::move(out_);
  }

 private:
  void code(int group, std::string_view value) {
    out_ += std::to_string(group) + "\n" + std::string(value) + "\n";
  }
  void code(int group, double value) { code(group, fixed(value, decimals)); }

  void begin_section(std::string_view name) {
    code(0, "SECTION");
    code(2, name);
  }

  void variable(std::string_view name, int group, std::string_view value) {
    code(9, name);
    code(group, value);
  }
  void variable(std::string_view name, const outline::Point& point) {
    code(9, name);
    code(10, point.x_mm);
    code(20, point.y_mm);
    code(30, 0.0);
  }

  void header() {
    begin_section("HEADER");
    variable("$ACADVER", 1, "AC1009");
    variable("$INSUNITS", 70, millimetres);
    variable("$MEASUREMENT", 70, metric);
    variable("$EXTMIN", used_.low);
    variable("$EXTMAX", used_.high);
    code(0, "ENDSEC");
  }

  void begin_table(std::string_view name, std::size_t entries) {
    code(0, "TABLE");
    code(2, name);
    code(70, std::to_string(entries));
  }

  void line_type(std::string_view name, const std::vector<double>& dash_mm) {
    double length = 0.0;
    for (const double part : dash_mm) length += part;
    code(0, "LTYPE");
    code(2, name);
    code(70, "0");
    code(3, dash_mm.empty() ? "Solid line" : "Dashes in millimetres");
    code(72, "65");
    code(73, std::to_string(dash_mm.size()));
    code(40, length);
    for (std::size_t i = 0; i < dash_mm.size(); ++i) code(49, i % 2 == 0 ? dash_mm[i] : -dash_mm[i]);
  }

  void layer(std::string_view name, int colour, std::string_view line_type) {
    code(0, "LAYER");
    code(2, name);
    code(70, "0");
    code(62, std::to_string(colour));
    code(6, line_type);
  }

  static std::string_view line_type_of(const StrokeStyle& style) {
    return style.dash_mm.empty() ? std::string_view("CONTINUOUS") : style.layer;
  }

  void tables() {
    const auto dashed = std::count_if(stroke_styles().begin(), stroke_styles().end(),
                                      [](const StrokeStyle& style) { return !style.dash_mm.empty(); });
    begin_section("TABLES");
    begin_table("LTYPE", static_cast<std::size_t>(dashed) + 1);
    line_type("CONTINUOUS", {});
    for (const StrokeStyle& style : stroke_styles())
      if (!style.dash_mm.empty()) line_type(style.layer, style.dash_mm);
    code(0, "ENDTAB");
    begin_table("LAYER", stroke_styles().size() + 3);
    layer("0", 7, "CONTINUOUS");
    for (const StrokeStyle& style : stroke_styles())
      layer(style.layer, style.dxf_colour, line_type_of(style));
    layer(note_layer, 7, "CONTINUOUS");
    layer(check_layer, 1, "CONTINUOUS");
    code(0, "ENDTAB");
    code(0, "ENDSEC");
  }

  void include(const outline::Point& point) {
    used_.low = {std::min(used_.low.x_mm, point.x_mm), std::min(used_.low.y_mm, point.y_mm)};
    used_.high = {std::max(used_.high.x_mm, point.x_mm), std::max(used_.high.y_mm, point.y_mm)};
  }

  void point(const outline::Point& at, int x_group) {
    code(x_group, at.x_mm);
    code(x_group + 10, at.y_mm);
    code(x_group + 20, 0.0);
    include(at);
  }

  void add_ring(std::string_view layer, const outline::Ring& ring) { add_polyline(layer, ring, "1"); }

  /// \param flags "1" closed, "0" open
  void add_polyline(std::string_view layer, const std::vector<outline::Point>& ring, std::string_view flags) {
    code(0, "POLYLINE");
    code(8, layer);
    code(66, "1");
    code(70, flags);
    for (const int group : {10, 20, 30}) code(group, 0.0);
    for (const outline::Point& corner : ring) {
      code(0, "VERTEX");
      code(8, layer);
      point(corner, 10);
    }
    code(0, "SEQEND");
    code(8, layer);
  }

  void add(const Drawing::Shape& shape) {
    const std::string_view layer = style_of(shape.stroke).layer;
    add_ring(layer, shape.polygon.outer());
    for (const outline::Ring& hole : shape.polygon.holes()) add_ring(layer, hole);
  }

  void add(const Drawing::Segment& segment) {
    code(0, "LINE");
    code(8, style_of(segment.stroke).layer);
    point(segment.from, 10);
    point(segment.to, 11);
  }

  void add_text(std::string_view layer, const outline::Point& at, double size_mm, std::string_view text,
                bool centred) {
    code(0, "TEXT");
    code(8, layer);
    point(at, 10);
    code(40, size_mm);
    code(1, ascii(text));
    if (!centred) return;
    code(72, "1");  // centred on the second point
    point(at, 11);
    code(73, "2");  // at mid height
  }

  void add_check_square() {
    const outline::Point low{used_.low.x_mm, used_.low.y_mm - square_gap_mm - square_mm};
    const outline::Point high{low.x_mm + square_mm, low.y_mm + square_mm};
    add_ring(check_layer, {low, {high.x_mm, low.y_mm}, high, {low.x_mm, high.y_mm}});
    add_text(check_layer, {low.x_mm + check_letter_mm, low.y_mm + check_letter_mm}, check_letter_mm,
             "must measure 100 x 100 mm; do not cut", false);
  }

  const Drawing& drawing_;
  outline::Box used_;
  std::string out_;
};

}  // namespace

std::string to_dxf(const Drawing& drawing) {
  return DxfWriter(drawing).write();
}

}  // namespace warmsheet::report
