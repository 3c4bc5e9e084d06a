// SPDX-License-Identifier: MIT
// Measures and the patterns drawn from them. Expressions stay texts here; the outline room evaluates them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.h"
#include "library/precautions.h"
#include "library/read_records.h"

namespace warmsheet::library {
namespace {

using D = Dimension;

// A finger crease to the height of a tall adult.
constexpr Limits measure_limits_m{1e-3, 2.5};
constexpr Limits factor_length_limits_m{-1.0, 1.0};
constexpr Limits factor_ratio_limits{-100.0, 100.0};
constexpr Limits form_time_limits_s{5.0, 3600.0};
constexpr std::size_t fewest_vertices = 3;

constexpr double largest_view_mm = 500.0;

double read_coordinate(toml::Reader& mark, std::string_view key) {
  const auto value = mark.number_if(key);
  if (!value || !(std::abs(*value) <= largest_view_mm))
    mark.problem(key, "expected a coordinate of the drawn limb, in mm, from -500 to 500",
                 "see materials/README.md for the limbs and their coordinates");
  return value.value_or(0.0);
}

std::optional<MeasureMark> read_mark(toml::Reader& entry) {
  auto mark = entry.table_if("mark");
  if (!mark) return std::nullopt;
  const std::string view = mark->choice("view", {"palm", "back", "arm", "finger"});
  return MeasureMark{.view = view == "back"     ? LimbView::back
                             : view == "arm"    ? LimbView::arm
                             : view == "finger" ? LimbView::finger
                                                : LimbView::palm,
                     .girth = mark->choice("kind", {"span", "girth"}) == "girth",
                     .from_x = read_coordinate(*mark, "x1"),
                     .from_y = read_coordinate(*mark, "y1"),
                     .to_x = read_coordinate(*mark, "x2"),
                     .to_y = read_coordinate(*mark, "y2")};
}

Measure read_measure(toml::Reader& entry, const std::string& id) {
  return {id, entry.text("name"), entry.text("how"), entry.figure("usual", D::length, measure_limits_m),
          read_mark(entry)};
}

// A rule's factor is a ratio or a length, and its unit decides which.
bool states_ratio(const toml::Value& factor) {
  const toml::Table* table = factor.table();
  if (table == nullptr) return false;
  const auto unit = table->find("unit");
  const auto* word = unit == table->end() ? nullptr : std::get_if<std::string>(&unit->second.data);
  return word != nullptr && find_unit(D::ratio, *word) != nullptr;
}

DesignRule read_rule(toml::Reader& entry) {
  const toml::Value* factor = entry.raw_if("factor");
  const bool ratio = factor != nullptr && states_ratio(*factor);
  return {entry.text("id"), entry.text("says"),
          ratio ? entry.figure("factor", D::ratio, factor_ratio_limits)
                : entry.figure("factor", D::length, factor_length_limits_m)};
}

DesignVertex read_vertex(const toml::Value& value, const std::string& path, Problems& problems) {
  if (value.table() == nullptr) {
    problems.add(value.place, fmt::format("{}: expected a corner, saw {}", path, value.kind()),
                 "write for example { x = \"-half_width\", y = \"0 mm\", r = \"10 mm\" }");
    return {};
  }
  toml::Reader corner(value, path, problems);
  return {corner.text("x"), corner.text("y"), corner.text_if("r").value_or(""), value.place};
}

std::vector<DesignVertex> read_vertices(toml::Reader& ring, Problems& problems) {
  const toml::Value* list = ring.raw_if("vertices");
  std::vector<DesignVertex> vertices;
  if (list == nullptr || list->array() == nullptr || list->array()->size() < fewest_vertices) {
    ring.problem("vertices", "expected a list of at least three corners",
                 "write vertices = [ { x = .., y = .. }, ... ]");
    return vertices;
  }
  for (const toml::Value& entry : *list->array())
    vertices.push_back(
        read_vertex(entry, fmt::format("{}.vertices.{}", ring.path(), vertices.size() + 1), problems));
  return vertices;
}

std::optional<DesignEllipse> read_ellipse(toml::Reader& hole) {
  auto ellipse = hole.table_if("ellipse");
  if (!ellipse) return std::nullopt;
  return DesignEllipse{ellipse->text("x"), ellipse->text("y"), ellipse->text("rx"), ellipse->text("ry"),
                       ellipse->place()};
}

DesignRing read_hole(toml::Reader& hole, Problems& problems) {
  DesignRing ring;
  ring.id = hole.text("id");
  ring.name = hole.text("name");
  ring.ellipse = read_ellipse(hole);
  if (!ring.ellipse)
    ring.vertices = read_vertices(hole, problems);
  else if (hole.has("vertices"))
    hole.problem("vertices", "a hole is either an ellipse or a list of corners", "leave one of them out");
  return ring;
}

DesignStrap read_strap(toml::Reader& entry, const Library& library) {
  DesignStrap strap{entry.text("name"),   entry.text("fixing"), entry.text("at_y"),
                    entry.text("length"), entry.text("id"),     entry.place()};
  if (strap.fixing.empty() || !library.all_parsed) return strap;
  try {
    static_cast<void>(library.fixing(strap.fixing, {"strap"}));
  } catch (const Failure& failure) {
    entry.problem("fixing", failure.problems().front().message, failure.problems().front().hint);
  }
  return strap;
}

LineKind read_kind(toml::Reader& entry) {
  const std::string kind = entry.choice("kind", {"trim", "flare", "fold"});
  if (kind == "flare") return LineKind::flare;
  return kind == "fold" ? LineKind::fold : LineKind::trim;
}

std::vector<DesignVertex> read_points(toml::Reader& entry, Problems& problems) {
  constexpr std::size_t fewest_points = 2;
  const toml::Value* list = entry.raw_if("points");
  std::vector<DesignVertex> points;
  if (list->array() == nullptr || list->array()->size() < fewest_points) {
    entry.problem("points", "expected a list of at least two points",
                  "write points = [ { x = .., y = .. }, ... ]");
    return points;
  }
  for (const toml::Value& point : *list->array())
    points.push_back(
        read_vertex(point, fmt::format("{}.points.{}", entry.path(), points.size() + 1), problems));
  return points;
}

void read_along(toml::Reader& entry, DesignLine& line, const Design& design) {
  auto along = entry.table_if("along");
  if (!along) return;
  const auto corners = static_cast<std::int64_t>(std::max(fewest_vertices, design.outline.vertices.size()));
  line.along = DesignLine::Along{static_cast<std::size_t>(along->whole("from", 1, corners)),
                                 static_cast<std::size_t>(along->whole("to", 1, corners))};
  line.inset = along->text("inset");
}

void read_around(toml::Reader& entry, DesignLine& line, const Design& design) {
  auto around = entry.table_if("around");
  if (!around) return;
  line.around = around->text("hole");
  line.inset = around->text("inset");
  std::vector<std::string> holes;
  for (const DesignRing& hole : design.holes) holes.push_back(hole.id);
  if (std::find(holes.begin(), holes.end(), line.around) == holes.end())
    around->problem("hole", fmt::format("\"{}\" is no hole of this design", clip(line.around, 60)),
                    known_hint(line.around, holes));
}

DesignLine read_line(toml::Reader& entry, const Design& design, Problems& problems) {
  DesignLine line{.id = entry.text("id"),
                  .name = entry.text("name"),
                  .kind = read_kind(entry),
                  .why = entry.text("why"),
                  .origin = entry.origin(),
                  .place = entry.place()};
  if (entry.has("points")) line.points = read_points(entry, problems);
  line.to_edge = entry.flag_if("to_edge").value_or(false);
  read_along(entry, line, design);
  read_around(entry, line, design);
  const int ways = (entry.has("points") ? 1 : 0) + (line.along ? 1 : 0) + (line.around.empty() ? 0 : 1);
  if (ways != 1)
    entry.problem("points", "a line is given in exactly one way",
                  "give it points, or along = { from, to, inset }, or around = { hole, inset }");
  return line;
}

std::optional<DesignLimit> read_limit(toml::Reader& reader) {
  auto limit = reader.table_if("is_not");
  if (!limit) return std::nullopt;
  return DesignLimit{limit->text("says"), limit->origin(), read_precautions(*limit)};
}

void check_measures(toml::Reader& reader, const Design& design, const Library& library) {
  if (!library.all_parsed) return;
  for (const std::string& id : design.measures)
    if (!library.measures.contains(id))
      reader.problem("measures", fmt::format("\"{}\" is not in measures.toml", clip(id, 60)),
                     known_hint(id, ids_of(library.measures)));
}

// Expressions use one name for one thing, so measures, rules and lets share a name space.
void check_names(toml::Reader& reader, const Design& design) {
  std::set<std::string> names;
  const auto take = [&](const std::string& name, std::string_view key) {
    if (!names.insert(name).second)
      reader.problem(key, fmt::format("the name \"{}\" is used twice", clip(name, 60)),
                     "measures, rules and lets of a design need names of their own");
  };
  for (const std::string& id : design.measures) take(id, "measures");
  for (const DesignRule& rule : design.rules) take(rule.id, "rule");
  for (const DesignLet& let : design.lets) take(let.id, "let");
}

void read_shape(toml::Reader& reader, Design& design, const Library& library, Problems& problems) {
  toml::Reader outline = reader.table("outline");
  design.outline.id = "outline";
  design.outline.name = design.name;
  design.outline.vertices = read_vertices(outline, problems);
  for (toml::Reader& hole : reader.tables("hole")) design.holes.push_back(read_hole(hole, problems));
  for (toml::Reader& strap : reader.tables("strap")) design.straps.push_back(read_strap(strap, library));
  for (toml::Reader& line : reader.tables("line")) design.lines.push_back(read_line(line, design, problems));
}

}  // namespace

std::map<std::string, Measure> read_measures(const toml::Value& file, Problems& problems) {
  toml::Reader reader(file, "", problems);
  return read_by_id(reader, "measure", read_measure);
}

Design read_design(const toml::Value& table, const std::string& id, const Library& library,
                   Problems& problems) {
  toml::Reader reader(table, "designs." + id, problems);
  Design design{.id = reader.text("id"),
                .name = reader.text("name"),
                .about = reader.text("about"),
                .body_part = reader.text("body_part"),
                .measures = reader.texts_if("measures"),
                .rules = {},
                .lets = {},
                .outline = {},
                .holes = {},
                .straps = {},
                .lines = {},
                .is_not = read_limit(reader),
                .form_time = reader.figure("form_time", D::duration, form_time_limits_s),
                .place = table.place,
                .measures_place = reader.place_of("measures")};
  if (design.measures.empty())
    reader.problem("measures", "no measure is named", "list the ids of measures.toml that the pattern needs");
  for (toml::Reader& rule : reader.tables("rule")) design.rules.push_back(read_rule(rule));
  for (toml::Reader& let : reader.tables("let"))
    design.lets.push_back({let.text("id"), let.text("is"), let.place_of("is")});
  read_shape(reader, design, library, problems);
  check_measures(reader, design, library);
  check_names(reader, design);
  return design;
}

}  // namespace warmsheet::library
