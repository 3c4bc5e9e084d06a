// SPDX-License-Identifier: MIT
// Reads the outline from a drawing. The only file that sees the XML parser; attributes are taken as text and
// numbers read here, because the parser's own conversions follow the C locale. Entities are never expanded,
// and counts are bounded.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <pugixml.hpp>
#include <string>
#include <utility>

#include "base/dimension.h"
#include "base/text.h"
#include "outline/chain.h"
#include "outline/outline.h"
#include "outline/readers.h"
#include "outline/refuse.h"
#include "outline/ring_nesting.h"
#include "outline/svg_style.h"
#include "outline/svg_text.h"

namespace warmsheet::outline {
namespace {

/// CSS 2.1, 4.3.2: a px is 1/96 in, so a length with a paper unit inside a shape is this many user units.
constexpr double user_units_per_m = 96.0 / inch_m;
constexpr int deepest_nesting = 100;
constexpr std::size_t most_elements = 100'000;

/// Groups of shapes, shapes, and what has no outline; everything else in a drawing is passed over with its
/// content.
constexpr std::array group_names{std::string_view("g"), std::string_view("a"), std::string_view("switch")};
constexpr std::array shape_names{std::string_view("path"),    std::string_view("rect"),
                                 std::string_view("circle"),  std::string_view("ellipse"),
                                 std::string_view("polygon"), std::string_view("polyline"),
                                 std::string_view("line")};

template <class List>
bool among(const List& list, std::string_view word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

class SvgReader {
 public:
  SvgReader(std::string_view text, const std::string& file, const ReadOptions& options)
      : text_(text), file_(file), options_(options), budget_(Place{file, 0, 0}) {
    for (std::size_t at = text.find('\n'); at != std::string_view::npos; at = text.find('\n', at + 1))
      line_starts_.push_back(static_cast<std::ptrdiff_t>(at) + 1);
  }

  std::vector<PlacedRing> read() {
    const pugi::xml_parse_result parsed = document_.load_buffer(text_.data(), text_.size());
    if (!parsed)
      refuse(place_at(parsed.offset), fmt::format("the XML is broken: {}", parsed.description()),
             "export the drawing again as plain SVG");
    const pugi::xml_node root = document_.document_element();
    if (local_name(root) != "svg")
      refuse(place_of(root), fmt::format("expected an svg element, saw '{}'", clip(root.name(), 40)),
             "give an SVG drawing");
    find_marked_layers(root, 0);
    read_style_sheets(root, 0);
    if (options_.layer && !any_marked_)
      refuse({file_, 0, 0}, fmt::format("no layer, group or shape is called '{}'", clip(*options_.layer, 40)),
             "look up the name of the layer in the drawing program");
    walk_children(root, root_map(root), false, 0);
    return join_strokes(std::move(strokes_), options_.tolerance.si * mm_per_m);
  }

 private:
  static std::string_view local_name(const pugi::xml_node& node) {
    const std::string_view name = node.name();
    constexpr std::string_view prefix = "svg:";
    return name.starts_with(prefix) ? name.substr(prefix.size()) : name;
  }

  [[nodiscard]] Place place_at(std::ptrdiff_t offset) const {
    const auto line =
        std::upper_bound(line_starts_.begin(), line_starts_.end(), std::max<std::ptrdiff_t>(offset, 0)) - 1;
    return {file_, static_cast<int>(line - line_starts_.begin()) + 1, static_cast<int>(offset - *line) + 1};
  }
  [[nodiscard]] Place place_of(const pugi::xml_node& node) const {
    return place_at(node.offset_debug() - 1);  // from the name back to its '<'
  }

  static std::string name_of(const pugi::xml_node& node) {
    const std::string id = node.attribute("id").value();
    return id.empty() ? std::string(local_name(node))
                      : fmt::format("{} '{}'", local_name(node), clip(id, 40));
  }

  // --- which shapes count

  /// A layer's name stands in its id, its class, or a label that drawing programs add under a prefix of
  /// their own.
  [[nodiscard]] bool has_name(const pugi::xml_node& node, std::string_view wanted) const {
    for (const pugi::xml_attribute& attribute : node.attributes()) {
      const std::string_view key = attribute.name();
      if (key == "id" || key == "label" || key.ends_with(":label")) {
        if (attribute.value() == wanted) return true;
      } else if (key == "class") {
        const std::string padded = fmt::format(" {} ", attribute.value());
        if (padded.find(fmt::format(" {} ", wanted)) != std::string::npos) return true;
      }
    }
    return false;
  }
  [[nodiscard]] bool is_marked(const pugi::xml_node& node) const {
    return options_.layer ? has_name(node, *options_.layer) : has_name(node, cut_layer);
  }

  void find_marked_layers(const pugi::xml_node& node, int depth) {
    if (depth > deepest_nesting)
      refuse(place_of(node), "the drawing nests its groups too deeply", "ungroup the shapes");
    for (const pugi::xml_node& child : node.children()) {
      if (++elements_ > most_elements)
        refuse(place_of(child), fmt::format("the drawing has more than {} elements", most_elements),
               "keep only the outline and its holes");
      if (!among(group_names, local_name(child)) && !among(shape_names, local_name(child))) continue;
      any_marked_ = any_marked_ || is_marked(child);
      find_marked_layers(child, depth + 1);
    }
  }

  void read_style_sheets(const pugi::xml_node& node, int depth) {
    for (const pugi::xml_node& child : node.children()) {
      if (local_name(child) == "style")
        styles_.add(child.text().get());
      else if (depth < deepest_nesting)
        read_style_sheets(child, depth + 1);
    }
  }

  /// A style goes before an attribute.
  [[nodiscard]] std::string_view property(const pugi::xml_node& node, const char* name) const {
    const auto attribute = [&](const char* key) { return std::string_view(node.attribute(key).value()); };
    const std::string_view styled =
        styles_.property(name, {attribute("style"), attribute("class"), attribute("id")});
    return styled.empty() ? attribute(name) : styled;
  }

  [[nodiscard]] bool is_hidden(const pugi::xml_node& node) const {
    return property(node, "display") == "none" || property(node, "visibility") == "hidden";
  }

  /// CSS has transforms of its own, in other units and with other centres (CSS Transforms 1, 6).
  void check_no_css_transform(const pugi::xml_node& node) const {
    const std::string_view attribute = node.attribute("transform").value();
    if (property(node, "transform") != attribute || !property(node, "transform-origin").empty())
      refuse_shape(node, "is moved by its style", "apply the transform in the drawing program");
  }

  void walk_children(const pugi::xml_node& parent, const Affine& map, bool marked, int depth) {
    for (const pugi::xml_node& node : parent.children()) {
      const std::string_view name = local_name(node);
      if (name == "use")
        refuse_shape(node, "is a copy of another shape", "turn clones into paths in the drawing program");
      if (name == "svg")
        refuse_shape(node, "is a drawing inside the drawing", "take it apart in the drawing program");
      const bool group = among(group_names, name);
      if ((!group && !among(shape_names, name)) || is_hidden(node)) continue;
      check_no_css_transform(node);
      const bool counts = marked || is_marked(node);
      const Affine inner =
          map.after(parse_svg_transform(node.attribute("transform").value(), place_of(node)));
      if (group)
        walk_children(node, inner, counts, depth + 1);
      else if (counts || !any_marked_)
        read_shape(node, inner);
    }
  }

  [[noreturn]] void refuse_shape(const pugi::xml_node& node, std::string_view what, std::string hint) const {
    refuse(place_of(node), fmt::format("{} {}", name_of(node), what), std::move(hint));
  }

  // --- units

  /// User units of the drawing to mm, y still down as in the drawing, so that messages speak its
  /// coordinates.
  Affine root_map(const pugi::xml_node& root) {
    const std::vector<double> box = parse_svg_numbers(root.attribute("viewBox").value(), place_of(root));
    if (!box.empty() && (box.size() != 4 || box[2] <= 0.0 || box[3] <= 0.0))
      refuse(place_of(root), "the viewBox is not four numbers with a width and a height above zero",
             "write viewBox=\"0 0 WIDTH HEIGHT\"");
    const auto width = paper_mm(root, "width");
    const auto height = paper_mm(root, "height");
    std::optional<Point> scale = box.empty() ? std::nullopt : box_scale(root, box, width, height);
    if (options_.user_unit) check_told_unit(root, scale);
    if (options_.user_unit && !scale)
      scale = {options_.user_unit->si * mm_per_m, options_.user_unit->si * mm_per_m};
    if (!scale) refuse_unit(root, box.empty());
    return {scale->x_mm, 0.0, 0.0, scale->y_mm, 0.0, 0.0};
  }

  /// Width or height on paper, if the drawing states it.
  [[nodiscard]] std::optional<double> paper_mm(const pugi::xml_node& root, const char* key) const {
    const std::string_view text = root.attribute(key).value();
    if (trim(text).empty() || trim(text) == "auto") return std::nullopt;
    const SvgLength length = parse_svg_length(text, place_of(root));
    const auto metres = metres_of_svg_unit(length.unit);
    if (!metres) return std::nullopt;
    if (length.number <= 0.0)
      refuse(place_of(root), fmt::format("the {} is not above zero", key), "state the true size");
    return length.number * *metres * mm_per_m;
  }

  /// mm in one user unit across and up (SVG 1.1, 7.8: without "none", both are the same).
  [[nodiscard]] std::optional<Point> box_scale(const pugi::xml_node& root, const std::vector<double>& box,
                                               std::optional<double> width,
                                               std::optional<double> height) const {
    if (!width && !height) return std::nullopt;
    const double x = width ? *width / box[2] : *height / box[3];
    const double y = height ? *height / box[3] : *width / box[2];
    const std::string_view fit = root.attribute("preserveAspectRatio").value();
    if (fit.starts_with("none")) return Point{x, y};
    const double both = fit.find("slice") != std::string_view::npos ? std::max(x, y) : std::min(x, y);
    return Point{both, both};
  }

  void check_told_unit(const pugi::xml_node& root, const std::optional<Point>& scale) const {
    const double told = options_.user_unit->si * mm_per_m;
    constexpr double same = 1e-3;
    if (!scale || std::abs(scale->x_mm - told) <= same * told) return;
    refuse(place_of(root),
           fmt::format("the drawing states a user unit of {:.5g} mm, but {:.5g} mm was given", scale->x_mm,
                       told),
           "leave the unit out, or correct the drawing's width, height and viewBox");
  }

  [[noreturn]] void refuse_unit(const pugi::xml_node& root, bool no_box) const {
    refuse(place_of(root),
           no_box ? "the drawing's true size is not clear: it has no viewBox, and programs differ in how "
                    "large a bare unit is"
                  : "the drawing's true size is not clear: its width and height have no unit of length (mm, "
                    "cm, in, pt)",
           fmt::format("give the length of one user unit: {} if it was drawn in millimetres; \"1/96 in\" if "
                       "in CSS pixels, \"1/72 in\" if in points",
                       setting(options_, "unit", "1 mm")));
  }

  // --- shapes

  void read_shape(const pugi::xml_node& node, const Affine& map) {
    for (const char* key : {"clip-path", "mask"})
      if (node.attribute(key) && std::string_view(node.attribute(key).value()) != "none")
        refuse_shape(node, "is clipped by another shape", "apply the clip in the drawing program");
    const std::string_view name = local_name(node);
    Pen pen(map, options_.tolerance.si * mm_per_m, budget_);
    if (name == "path") draw_svg_path(node.attribute("d").value(), place_of(node), pen);
    if (name == "line") draw_line(node, pen);
    if (name == "rect") draw_rect(node, pen);
    if (name == "circle") draw_ellipse(node, "r", "r", pen);
    if (name == "ellipse") draw_ellipse(node, "rx", "ry", pen);
    if (name == "polygon" || name == "polyline") draw_points(node, name == "polygon", pen);
    keep(node, pen);
  }

  void keep(const pugi::xml_node& node, const Pen& pen) {
    for (const Stroke& stroke : pen.strokes()) strokes_.push_back({stroke, place_of(node), name_of(node)});
  }

  /// A length inside a shape, in user units.
  [[nodiscard]] std::optional<double> user_length(const pugi::xml_node& node, const char* key) const {
    const std::string_view text = node.attribute(key).value();
    if (trim(text).empty() || trim(text) == "auto") return std::nullopt;
    const SvgLength length = parse_svg_length(text, place_of(node));
    if (length.unit.empty() || length.unit == "px") return length.number;
    const auto metres = metres_of_svg_unit(length.unit);
    if (!metres)
      refuse_shape(node, fmt::format("has {} = '{}', which has no fixed size", key, clip(text, 20)),
                   "convert it to a path in the drawing program");
    return length.number * *metres * user_units_per_m;
  }

  void draw_line(const pugi::xml_node& node, Pen& pen) const {
    const auto at = [&](const char* x, const char* y) {
      return Point{user_length(node, x).value_or(0.0), user_length(node, y).value_or(0.0)};
    };
    pen.move_to(at("x1", "y1"));
    pen.line_to(at("x2", "y2"));
    pen.lift();
  }

  void draw_rect(const pugi::xml_node& node, Pen& pen) const {
    const double x = user_length(node, "x").value_or(0.0);
    const double y = user_length(node, "y").value_or(0.0);
    const double w = user_length(node, "width").value_or(0.0);
    const double h = user_length(node, "height").value_or(0.0);
    if (w <= 0.0 || h <= 0.0) return;  // not drawn (SVG 1.1, 9.2)
    auto rx = user_length(node, "rx");
    auto ry = user_length(node, "ry");
    if (!rx) rx = ry;
    if (!ry) ry = rx;
    const double a = std::clamp(rx.value_or(0.0), 0.0, 0.5 * w);
    const double b = std::clamp(ry.value_or(0.0), 0.0, 0.5 * h);
    pen.move_to({x + a, y});
    pen.line_to({x + w - a, y});
    pen.arc_to(a, b, 0.0, false, true, {x + w, y + b});
    pen.line_to({x + w, y + h - b});
    pen.arc_to(a, b, 0.0, false, true, {x + w - a, y + h});
    pen.line_to({x + a, y + h});
    pen.arc_to(a, b, 0.0, false, true, {x, y + h - b});
    pen.line_to({x, y + b});
    pen.arc_to(a, b, 0.0, false, true, {x + a, y});
    pen.close();
  }

  void draw_ellipse(const pugi::xml_node& node, const char* x_key, const char* y_key, Pen& pen) const {
    const Point centre{user_length(node, "cx").value_or(0.0), user_length(node, "cy").value_or(0.0)};
    auto rx = user_length(node, x_key);
    auto ry = user_length(node, y_key);
    if (!rx) rx = ry;
    if (!ry) ry = rx;
    if (!rx || *rx <= 0.0 || *ry <= 0.0) return;  // not drawn (SVG 1.1, 9.3 and 9.4)
    pen.move_to({centre.x_mm + *rx, centre.y_mm});
    pen.ellipse_part(centre, *rx, *ry, 0.0, 0.0, 2.0 * std::numbers::pi);
    pen.close();
  }

  void draw_points(const pugi::xml_node& node, bool close, Pen& pen) const {
    const std::vector<double> numbers = parse_svg_numbers(node.attribute("points").value(), place_of(node));
    if (numbers.size() % 2 != 0)
      refuse_shape(node, "has an odd number of coordinates", "export the drawing again as plain SVG");
    for (std::size_t i = 0; i + 1 < numbers.size(); i += 2) {
      const Point p{numbers[i], numbers[i + 1]};
      if (i == 0)
        pen.move_to(p);
      else
        pen.line_to(p);
    }
    if (close)
      pen.close();
    else
      pen.lift();
  }

  std::string_view text_;
  std::string file_;
  std::vector<std::ptrdiff_t> line_starts_{0};
  ReadOptions options_;
  pugi::xml_document document_;
  PointBudget budget_;
  std::size_t elements_ = 0;
  bool any_marked_ = false;
  SvgStyles styles_;
  std::vector<PlacedStroke> strokes_;
};

}  // namespace

Outline read_svg(std::string_view text, const std::string& file, const ReadOptions& options) {
  check_options(options);
  const Polygon drawn = nest_rings(SvgReader(text, file, options).read(), {file, 0, 0});
  const Polygon y_up = drawn.mirrored().placed(180.0, {});
  return traced(y_up, file, options.tolerance);
}

}  // namespace warmsheet::outline
